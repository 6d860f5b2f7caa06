"""What a formula written out consists of."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, Final, Literal

Value = float | str
# Inputs that several examples share, by name.
Given = Mapping[str, Any]
Origin = Literal["published", "label", "worked"]
# Arithmetic agrees with a stated figure within so much of it, unless the figure was rounded more.
ARITHMETIC: Final = 0.005
# pH agrees within so much.
PH: Final = 0.005
# The unit of a time of day, in hours past midnight.
CLOCK: Final = "time of day"


@dataclass(frozen=True, slots=True)
class Term:
    """One quantity of a formula. key: its name as an input; symbol: as the expression has it."""

    key: str
    symbol: str
    unit: str = ""
    words: str = ""


@dataclass(frozen=True, slots=True)
class Source:
    """Where a formula is from. known: what of it was at hand, or that none was; may be empty."""

    citation: str
    known: str = "from memory"


@dataclass(frozen=True, slots=True)
class Example:
    """One case worked: what is put in, and the figure that should come out.

    within: how far off may be, where that is not half a percent (a figure printed with fewer
    digits, a pH). origin: whose figure it is: a paper's, a label's, or worked by hand for us.
    """

    case: str
    inputs: Mapping[str, Value]
    expected: float
    within: float | None = None
    origin: Origin = "worked"

    def agrees(self, value: float) -> bool:
        """True when a computed figure is the one expected."""
        room = ARITHMETIC * abs(self.expected) if self.within is None else self.within
        return abs(value - self.expected) <= room


@dataclass(frozen=True, slots=True)
class Part:
    """One expression of a formula, the function that works it out, and its examples.

    work takes a formula's inputs by their keys.
    """

    name: str
    expression: str
    unit: str
    work: Callable[..., float]
    examples: tuple[Example, ...]

    def value(self, example: Example) -> float:
        """What the program makes of an example."""
        return self.work(**example.inputs)


@dataclass(frozen=True, slots=True)
class Formula:
    """A formula under one title. misleads: when not to lean on it."""

    id: str
    title: str
    terms: tuple[Term, ...]
    sources: tuple[Source, ...]
    misleads: tuple[str, ...]
    parts: tuple[Part, ...]


@dataclass(frozen=True, slots=True)
class Subject:
    """Formulas that belong together."""

    name: str
    formulas: tuple[Formula, ...]


def example(
    expected: float,
    case: str = "",
    *,
    within: float | None = None,
    origin: Origin = "worked",
    **inputs: Value,
) -> Example:
    """An example with its inputs by name."""
    return Example(case, inputs, expected, within, origin)
