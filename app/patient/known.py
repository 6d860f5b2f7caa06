"""Not known is not normal: the one way a missing value travels."""

from typing import Literal, TypeVar

T = TypeVar("T")
Why = Literal["missing", "stale", "suspect"]


class NotKnown(Exception):
    """A value a rule needs is not there to be judged by.

    need: the input's name as it is in the request ("potassium", "weight_kg"). why: missing,
    stale or suspect. detail: a sentence part for people ("last potassium is 31 h old").
    """

    def __init__(self, need: str, why: Why = "missing", detail: str = "") -> None:
        super().__init__(need, why, detail)
        self.need = need
        self.why: Why = why
        self.detail = detail


def known(value: T | None, need: str) -> T:
    """The value, or NotKnown(need) when it is None."""
    if value is None:
        raise NotKnown(need)
    return value
