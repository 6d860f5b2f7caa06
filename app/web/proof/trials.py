"""How far off the prediction was: held against published groups, study by study."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from itertools import groupby
from typing import Final

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from app.physiology.course.parameters import PARAMETERS, Parameter
from app.review.trials.errors import QUANTITIES
from app.review.trials.fluids import UNITS
from app.review.trials.report import Report
from app.review.trials.score import Point
from app.review.trials.shipped import model_version, shipped
from app.web.proof.trial_errors import DoseView, QuantityView, dose_views, quantity_views
from app.web.proof.trial_pictures import (
    STYLES,
    KeyView,
    PictureView,
    anchor_of,
    change_words,
    key_views,
    picture_views,
)
from app.web.render import render
from app.web.show import ANALYTES, capital, number

router: Final = APIRouter(include_in_schema=False)
PARAMETER_PLACES: Final = 4


@dataclass(frozen=True, slots=True)
class PointView:
    """One row: a change measured and the change predicted."""

    anchor: str
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
    """A study and its rows. set_with: some of them helped to set the model."""

    key: str
    citation: str
    group: str
    points: tuple[PointView, ...]
    assumed: str
    notes: tuple[str, ...]
    set_with: bool


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
    """The report. differs: the model in force here is not the one that was scored. viewed: studies
    gathered to be held out, but in view when a number was chosen. styles: how rows are drawn.
    """

    day: str
    groups: int
    studies_count: int
    differs: bool
    quantities: tuple[QuantityView, ...]
    doses: tuple[DoseView, ...]
    pictures: tuple[PictureView, ...]
    key: tuple[KeyView, ...]
    styles: tuple[tuple[str, str], ...]
    viewed: tuple[str, ...]
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
        quantities=tuple(quantity_views(points)),
        doses=tuple(dose_views(points)),
        pictures=tuple(picture_views(points)),
        key=key_views(points),
        styles=tuple(reversed(STYLES.items())),
        viewed=tuple(sorted({point.study for point in points if point.viewed})),
        studies=tuple(_studies(points)),
        parameters=tuple(_parameter(name, one) for name, one in PARAMETERS.items()),
    )


def _studies(points: Iterable[Point]) -> Iterator[StudyView]:
    ranked = sorted(points, key=lambda p: p.study)
    for _, some in groupby(ranked, key=lambda p: p.study):
        rows = tuple(some)
        first = rows[0]
        size = f", {first.people} people" if first.people else ", size of the group not shown"
        yield StudyView(
            key=first.study,
            citation=first.citation,
            group=capital(first.population) + size,
            points=tuple(map(_point, rows)),
            assumed="; ".join(_assumed(point.assumed for point in rows)),
            notes=tuple(dict.fromkeys(capital(point.notes) for point in rows if point.notes)),
            set_with=any(not point.held_out for point in rows),
        )


def _assumed(told: Iterable[str]) -> Iterator[str]:
    """Each thing once; one that differs between a man and a woman with both its figures."""
    parts = dict.fromkeys(part for text in told for part in text.split("; ") if part)
    by_name: dict[str, list[str]] = {}
    for part in parts:
        name, _, figure = part.partition(" ")
        by_name.setdefault(name, []).append(figure)
    for name, figures in by_name.items():
        yield f"{ANALYTES.get(name, name)} {' or '.join(figures)}".strip()


def _point(point: Point) -> PointView:
    name, unit, places = QUANTITIES[point.quantity]
    marks = [
        "held out" if point.held_out else "",
        "in view when a number was chosen" if point.viewed else "",
        "" if point.seen else "from memory or second hand",
    ]
    return PointView(
        anchor=anchor_of(point),
        given=f"{point.fluid}, {number(point.dose)} {UNITS[point.kind]}{_less(point)}",
        when=f"{number(point.minutes)} min",
        quantity=name,
        unit=unit,
        measured=change_words(point.measured, places),
        predicted=change_words(point.predicted, places),
        off=change_words(point.off, places),
        marks=", ".join(filter(None, marks)),
    )


def _less(point: Point) -> str:
    return f"; less what {point.against} did to them" if point.against else ""


def _parameter(name: str, one: Parameter) -> ParameterView:
    return ParameterView(
        name=capital(name.replace("_", " ")),
        value=number(one.mid, PARAMETER_PLACES),
        between=f"{number(one.low, PARAMETER_PLACES)} to {number(one.high, PARAMETER_PLACES)}",
        unit=one.unit,
        why=one.why,
    )
