"""How far off the prediction was: held against published groups, study by study."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import groupby
from typing import Final

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from app.physiology.course.parameters import PARAMETERS, Parameter
from app.review.trials.errors import BARS, QUANTITIES, Error, by_quantity, error_of
from app.review.trials.fluids import KIND_NAMES, UNITS, band_text
from app.review.trials.report import Report
from app.review.trials.score import Point
from app.review.trials.shipped import model_version, shipped
from app.web.render import render
from app.web.show import capital, count, number

router: Final = APIRouter(include_in_schema=False)
PARAMETER_PLACES: Final = 4
NONE: Final = "none"


@dataclass(frozen=True, slots=True)
class ErrorView:
    """How far off, as text, and of how many groups."""

    off: str = NONE
    still: str = ""
    groups: str = ""
    over: bool = False


@dataclass(frozen=True, slots=True)
class QuantityView:
    """One row: a quantity in the rows that parameters were set from, and in those held out."""

    name: str
    unit: str
    bar: str
    tuned: ErrorView
    held_out: ErrorView


@dataclass(frozen=True, slots=True)
class DoseView:
    """One row: a quantity in groups given a kind of fluid and a dose of it."""

    fluid: str
    dose: str
    quantity: str
    unit: str
    error: ErrorView


@dataclass(frozen=True, slots=True)
class PointView:
    """One row: a change measured and the change predicted."""

    given: str
    when: str
    quantity: str
    unit: str
    measured: str
    predicted: str
    off: str
    marks: str


@dataclass(frozen=True, slots=True)
class StudyView:
    """A study and its rows."""

    citation: str
    group: str
    points: tuple[PointView, ...]
    assumed: str
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ParameterView:
    """A number of the model, its range, and where it comes from."""

    name: str
    value: str
    between: str
    unit: str
    why: str


@dataclass(frozen=True, slots=True)
class TrialsPage:
    """The report. differs: the model in force here is not the one that was scored."""

    day: str
    groups: int
    studies_count: int
    differs: bool
    quantities: tuple[QuantityView, ...]
    doses: tuple[DoseView, ...]
    studies: tuple[StudyView, ...]
    parameters: tuple[ParameterView, ...]


@router.get("/predict/trials")
def show_trials(request: Request) -> HTMLResponse:
    """How far off it was."""
    return render(request, "predict/trials.html", _page())


@cache
def _page() -> TrialsPage:
    return trials_page(shipped())


def trials_page(report: Report) -> TrialsPage:
    """Everything on it."""
    points = report.points
    return TrialsPage(
        day=report.day,
        groups=len({point.arm for point in points}),
        studies_count=len({point.study for point in points}),
        differs=report.model != model_version(),
        quantities=tuple(_quantities(points)),
        doses=tuple(_doses(points)),
        studies=tuple(_studies(points)),
        parameters=tuple(_parameter(name, one) for name, one in PARAMETERS.items()),
    )


def _quantities(points: Sequence[Point]) -> Iterator[QuantityView]:
    for quantity, some in by_quantity(points).items():
        name, unit, places = QUANTITIES[quantity]
        bar = BARS.get(quantity)
        sides = [[p for p in some if p.held_out is side] for side in (False, True)]
        tuned, held_out = (_error(error_of(side), places, bar) for side in sides)
        yield QuantityView(
            capital(name), unit, number(bar, 2) if bar else "not set", tuned, held_out
        )


def _doses(points: Iterable[Point]) -> Iterator[DoseView]:
    order = {kind: at for at, kind in enumerate(KIND_NAMES)}
    ranked = sorted(points, key=lambda p: (order[p.kind], p.band))
    for (kind, band), some in groupby(ranked, key=lambda p: (p.kind, p.band)):
        for quantity, alike in by_quantity(some).items():
            name, unit, places = QUANTITIES[quantity]
            error = _error(error_of(alike), places, BARS.get(quantity))
            yield DoseView(
                capital(KIND_NAMES[kind]), capital(band_text(kind, band)), name, unit, error
            )


def _studies(points: Iterable[Point]) -> Iterator[StudyView]:
    ranked = sorted(points, key=lambda p: p.study)
    for _, some in groupby(ranked, key=lambda p: p.study):
        rows = tuple(some)
        first = rows[0]
        size = f", {first.people} people" if first.people else ", size of the group not shown"
        yield StudyView(
            citation=first.citation,
            group=capital(first.population) + size,
            points=tuple(map(_point, rows)),
            assumed="; ".join(dict.fromkeys(point.assumed for point in rows if point.assumed)),
            notes=tuple(dict.fromkeys(capital(point.notes) for point in rows if point.notes)),
        )


def _point(point: Point) -> PointView:
    name, unit, places = QUANTITIES[point.quantity]
    marks = [
        "held out" if point.held_out else "",
        "" if point.seen else "from memory or second hand",
    ]
    return PointView(
        given=f"{point.fluid}, {number(point.dose)} {UNITS[point.kind]}",
        when=f"{number(point.minutes)} min",
        quantity=name,
        unit=unit,
        measured=_change(point.measured, places),
        predicted=_change(point.predicted, places),
        off=_change(point.off, places),
        marks=", ".join(filter(None, marks)),
    )


def _change(value: float, places: int) -> str:
    """A change with its sign; one too small to show is "0"."""
    rounded = round(value, places)
    return "0" if not rounded else f"{'+' if rounded > 0 else ''}{number(rounded, places)}"


def _error(error: Error | None, places: int, bar: float | None) -> ErrorView:
    if error is None:
        return ErrorView()
    return ErrorView(
        off=number(error.off, places),
        still=number(error.still, places),
        groups=count(error.groups, "group"),
        over=bar is not None and error.off > bar,
    )


def _parameter(name: str, one: Parameter) -> ParameterView:
    return ParameterView(
        name=capital(name.replace("_", " ")),
        value=number(one.mid, PARAMETER_PLACES),
        between=f"{number(one.low, PARAMETER_PLACES)} to {number(one.high, PARAMETER_PLACES)}",
        unit=one.unit,
        why=one.why,
    )
