"""The people of the pages of signing in."""

from tests.unit.web.account.conftest import browser, people

__all__ = ["browser", "people"]
