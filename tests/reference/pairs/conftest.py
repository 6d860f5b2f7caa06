"""A database of one's own."""

from tests.unit.conftest import engine

__all__ = ["engine"]
