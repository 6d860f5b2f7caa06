"""What the words of one step of an order say, figure by figure."""

from dataclasses import dataclass, field
from typing import Final

from app.intake.pace.tokens import HOURS_PER_DAY, Token

# A range this wide may be a slip of the pen; a narrower one is a plan, judged at its highest.
WIDE_RANGE: Final = 5.0


@dataclass(frozen=True, slots=True)
class Body:
    """What a rate by size needs."""

    weight_kg: float | None = None
    height_cm: float | None = None


@dataclass(slots=True)
class Heard:
    """What the words of one step say, figure by figure.

    asks: doubts about what is written. wants: what is asked only where no rate is found in another
    way. notes: how something was read, asked softly. bare: a number that may be a rate; is_at: it
    stands behind "at"; bare_over: one behind "over" that may be hours or minutes; bare_volume: one
    that is mL where no volume has its unit. intervals: hours from one bag to the next. by_kg: mL
    for each kg of a volume. counted_first: "3 x 1 L", which the time behind it may be for together.
    """

    rates: list[float] = field(default_factory=list)
    volumes: list[float] = field(default_factory=list)
    durations: list[float] = field(default_factory=list)
    dose_rates: list[tuple[float, str]] = field(default_factory=list)
    bags: int = 1
    counted_first: bool = False
    intervals: list[float] = field(default_factory=list)
    of_bag: bool = False
    by_kg: float = 0.0
    bare: float | None = None
    is_at: bool = False
    bare_over: float | None = None
    bare_volume: float | None = None
    drops_per_min: float | None = None
    drops_per_ml: float | None = None
    asks: list[str] = field(default_factory=list)
    wants: list[str] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)


def figures(tokens: list[Token]) -> list[float]:
    """The numbers of a stretch."""
    return [token.value for token in tokens if token.letter == "N"]


def highest(tokens: list[Token], heard: Heard, unit: str) -> float:
    """The number of a stretch, or the highest of its range; a very wide range is asked about."""
    is_range = any(token.letter == "R" for token in tokens)
    numbers = figures(tokens)[: 2 if is_range else 1]
    low, high = min(numbers), max(numbers)
    if is_range and high > low * WIDE_RANGE:
        heard.asks.append(f"{low:g} to {high:g} {unit} is a wide range: at which does it run?")
    elif is_range:
        heard.notes.append(f"{low:g} to {high:g} {unit} is judged at {high:g} {unit}.")
    return high


def factor_of(tokens: list[Token], letters: str, default: float = 1.0) -> float:
    """The factor of the first token of these classes."""
    return next((token.value for token in tokens if token.letter in letters), default)


def hours_behind(tokens: list[Token]) -> tuple[float, float]:
    """What a rate is per, h, and the count before the unit: "/24 h", "/h", "daily"."""
    last = tokens[-1]
    per = HOURS_PER_DAY if last.letter == "D" else 1.0 if last.letter == "Y" else last.value
    count = tokens[-2].value if tokens[-2].letter == "N" and last.letter == "H" else 1.0
    return count * per, count


def shown(tokens: list[Token]) -> str:
    """A stretch as it was written."""
    return "".join(
        f" {t.written}" if at and t.letter != "/" and tokens[at - 1].letter != "/" else t.written
        for at, t in enumerate(tokens)
    )
