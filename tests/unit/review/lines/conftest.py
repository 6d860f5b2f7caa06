"""Things and facts as the pairs' own tests have them."""

from tests.unit.review.pairs.conftest import book, names, thing

__all__ = ["book", "names", "thing"]
