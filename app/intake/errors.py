"""What cannot be read at all: the field, its value, what is accepted; and what is too much."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

# Far beyond what a ward writes: reading takes longer the more there is.
LONGEST_TEXT: Final = 2000
MOST_FIELDS: Final = 100
MOST_LISTED: Final = 1000
MOST_OF: Final[Mapping[str, int]] = {"orders": 200, "co_infusions": 100, "additives": 30}

# Not frozen: Python itself sets an exception's traceback as it passes a context manager.


@dataclass(unsafe_hash=True)
class InputError(Exception):
    """One field that cannot be read.

    field: its path ("orders[0].rate_ml_h"). value: as received. accepted: in words.
    """

    field: str
    value: object
    accepted: str

    def __str__(self) -> str:
        return f"{self.field}: {self.value!r} is not accepted; accepted: {self.accepted}"


@dataclass(unsafe_hash=True)
class InputErrors(Exception):
    """Several fields that cannot be read, in the order they were met."""

    errors: tuple[InputError, ...]

    def __str__(self) -> str:
        return "; ".join(map(str, self.errors))


def too_much(name: str, value: object, most: int = MOST_LISTED) -> tuple[str, str] | None:
    """How much a value is, and what is accepted; None when that can be read."""
    if isinstance(value, str):
        size, most, what = len(value), LONGEST_TEXT, "characters"
    else:
        size, what = len(value) if isinstance(value, list | tuple) else 0, "entries"
        most = MOST_OF.get(name, most)
    return (f"{size:,} {what}", f"at most {most:,} {what}") if size > most else None
