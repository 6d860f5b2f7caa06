"""How far off the prediction was as rows of tables: by quantity, and by fluid and dose."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Final

from app.review.trials.errors import BARS, QUANTITIES, Error, by_quantity, error_of
from app.review.trials.fluids import KIND_NAMES, band_text
from app.review.trials.score import Point
from app.web.show import capital, count, number

NONE: Final = "none"
PERCENT: Final = 100


@dataclass(frozen=True, slots=True)
class ErrorView:
    """How far off, as text; of how many groups; to which side; and how often inside the band."""

    off: str = NONE
    still: str = ""
    groups: str = ""
    side: str = ""
    inside: str = ""
    over: bool = False


@dataclass(frozen=True, slots=True)
class QuantityView:
    """One row: a quantity in the rows held out, and in those that helped to set the model."""

    name: str
    unit: str
    bar: str
    held_out: ErrorView
    tuned: ErrorView


@dataclass(frozen=True, slots=True)
class DoseRow:
    """A quantity in groups given a kind of fluid and a dose of it."""

    quantity: str
    unit: str
    error: ErrorView


@dataclass(frozen=True, slots=True)
class DoseView:
    """A kind of fluid and a dose of it."""

    fluid: str
    dose: str
    rows: tuple[DoseRow, ...]


def quantity_views(points: Iterable[Point]) -> Iterator[QuantityView]:
    """Each quantity, what was held out apart from the rest."""
    for quantity, some in by_quantity(points).items():
        name, unit, _ = QUANTITIES[quantity]
        bar = BARS.get(quantity)
        told = number(bar, 2) if bar else "not set"
        sides = [[p for p in some if p.held_out is side] for side in (True, False)]
        yield QuantityView(capital(name), unit, told, *(_error(side) for side in sides))


def dose_views(points: Iterable[Point]) -> Iterator[DoseView]:
    """Each kind of fluid and dose, in the order of the kinds."""
    order = {kind: at for at, kind in enumerate(KIND_NAMES)}
    ranked = sorted(points, key=lambda p: (order[p.kind], p.band))
    for (kind, band), some in groupby(ranked, key=lambda p: (p.kind, p.band)):
        rows = tuple(
            DoseRow(QUANTITIES[quantity][0], QUANTITIES[quantity][1], _error(alike, mixed=True))
            for quantity, alike in by_quantity(some).items()
        )
        yield DoseView(capital(KIND_NAMES[kind]), band_text(kind, band), rows)


def _error(points: Sequence[Point], *, mixed: bool = False) -> ErrorView:
    """mixed: how many of the groups were held out is said."""
    error = error_of(points)
    if error is None:
        return ErrorView()
    quantity = points[0].quantity
    places, bar = QUANTITIES[quantity][2], BARS.get(quantity)
    held = error.groups - error.fitted
    apart = f", {held if held < error.groups else 'all'} held out" if mixed and held else ""
    return ErrorView(
        off=number(error.off, places),
        still=number(error.still, places),
        groups=count(error.groups, "group") + apart,
        side=_side(error, places),
        inside="" if error.inside is None else f"{error.inside * PERCENT:.0f}%",
        over=bar is not None and error.off > bar,
    )


def _side(error: Error, places: int) -> str:
    """The mean of predicted less measured, in words; a single row has no mean."""
    if error.points == 1:
        return ""
    if not round(error.bias, places):
        return "neither"
    return f"{number(abs(error.bias), places)} too {'high' if error.bias > 0 else 'low'}"
