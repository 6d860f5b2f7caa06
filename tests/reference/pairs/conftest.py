"""A database of one's own."""

from tests.unit.conftest import engine, migrated

__all__ = ["engine", "migrated"]
