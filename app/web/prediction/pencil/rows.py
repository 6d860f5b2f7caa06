"""The rows of what is worked by hand: the shape that every subject fills."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

from app.web.prediction.pencil.tried import Tried
from app.web.show import signed


@dataclass(frozen=True, slots=True)
class HandCell:
    """One bag: what the formula says, and what the curve says at each moment. Lines of text."""

    mark: str
    by_hand: tuple[str, ...]
    curve: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class HandRow:
    """One formula. formula_id: where it is written out. why: a sentence on why the two differ."""

    formula_id: str
    name: str
    cells: tuple[HandCell, ...]
    why: str


Lines = tuple[str, ...]
NO_CHANGE: Final = "no change"


def cells_of(
    tried: Sequence[Tried],
    by_hand: Callable[[Tried], Lines],
    curve: Callable[[Tried, float], Lines],
) -> tuple[HandCell, ...]:
    """A cell for each bag."""
    return tuple(
        HandCell(one.mark, by_hand(one), tuple(curve(one, moment) for moment in one.moments))
        for one in tried
    )


def said_of(tried: Sequence[Tried], words: Callable[[Tried], str]) -> str:
    """What is said of each bag, marked where there are two that differ."""
    said = {one.mark: words(one) for one in tried}
    if len(set(said.values())) == 1:
        return next(iter(said.values()))
    return " ".join(f"{mark}: {text}" for mark, text in said.items() if text)


def change_text(value: float, unit: str, places: int = 1) -> str:
    """A change with its sign and unit; one too small to show is "no change"."""
    return f"{signed(value, places)} {unit}".strip() if round(value, places) else NO_CHANGE
