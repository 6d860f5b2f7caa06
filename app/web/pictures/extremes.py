"""The highest or lowest point of a curve, where it is not an end: found, and labelled clear of
other words. Pure.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from app.web.pictures.field import AWAY, LETTER, LINE, Field

# A bend counts from this share of the least that the axis spans.
COUNTS_FROM: Final = 0.05


@dataclass(frozen=True, slots=True)
class Extreme:
    """Where a curve turns: its place in the curve, h from now, its value, and which it is."""

    at: int
    hours: float
    value: float
    highest: bool

    @property
    def word(self) -> str:
        """As it is said."""
        return "highest" if self.highest else "lowest"


@dataclass(frozen=True, slots=True)
class Words:
    """Words in a picture, about their middle."""

    x: float
    y: float
    text: str

    def meets(self, other: "Words") -> bool:
        """True where the two would cover each other."""
        across = abs(self.x - other.x) < LETTER * (len(self.text) + len(other.text)) / 2
        return across and abs(self.y - other.y) < LINE


def extreme_of(hours: Sequence[float], mid: Sequence[float], least: float) -> Extreme | None:
    """The turn that stands out most; None where the ends are as high and as low.

    least: the least that the axis spans, in the unit of the values.
    """
    ends = mid[0], mid[-1]
    top, foot = max(mid), min(mid)
    above, below = top - max(ends), min(ends) - foot
    if max(above, below) < COUNTS_FROM * least:
        return None
    highest = above >= below
    value = top if highest else foot
    at = list(mid).index(value)
    return Extreme(at, hours[at], value, highest)


def placed(extreme: Extreme, text: str, field: Field, taken: Sequence[Words]) -> Words | None:
    """Its words just above (of the highest) or below the point; None where others stand there."""
    half = LETTER * len(text) / 2
    x = min(max(field.x(extreme.hours), field.left + half), field.right - half)
    y = field.y(extreme.value) + (-AWAY if extreme.highest else AWAY)
    words = Words(x, min(max(y, LINE / 2), field.bottom - LINE / 2), text)
    return None if any(words.meets(other) for other in taken) else words
