"""The field of a picture of curves: how hours and values turn into places in it."""

from dataclasses import dataclass
from typing import Final

WIDTH: Final = 360.0
HEIGHT: Final = 220.0
TOP: Final = 22.0
FOOT: Final = 30.0
# Widest letter at the size of the sheet's labels: what a word is counted to take.
LETTER: Final = 7.8
LINE: Final = 15.0
PAD: Final = 10.0
AWAY: Final = 9.0
BESIDE: Final = 7.0


@dataclass(frozen=True, slots=True)
class Field:
    """The field of the plot, and how values and hours turn into places in it."""

    left: float
    right: float
    hours: tuple[float, float]
    values: tuple[float, float]
    top: float = TOP
    bottom: float = HEIGHT - FOOT

    def x(self, hours: float) -> float:
        """Where a time stands, h from now; what lies outside stands at the edge."""
        first, last = self.hours
        inside = min(max(hours, first), last)
        return self.left + (self.right - self.left) * (inside - first) / (last - first)

    def y(self, value: float) -> float:
        """Where a value stands, from the top; what lies outside stands at the edge."""
        low, high = self.values
        inside = min(max(value, low), high)
        return self.bottom - (self.bottom - self.top) * (inside - low) / (high - low)
