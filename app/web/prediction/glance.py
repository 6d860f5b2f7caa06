"""The main quantities at a glance: now, when the bag is in, and at the end; A beside B."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import timedelta
from typing import Final

from app.physiology.course.course import Course
from app.web.pictures.curves import Curve
from app.web.prediction.panels import (
    MINUTES_PER_HOUR,
    QUANTITIES,
    Cell,
    Quantity,
    cell_at,
    curves_of,
    hours_words,
    value_at,
)
from app.web.show import duration, number, signed

ALIKE: Final = "alike"
MAIN: Final = (
    "sodium_mmol_l", "potassium_mmol_l", "chloride_mmol_l", "bicarbonate_mmol_l", "ph",
    "glucose_mmol_l", "haematocrit", "plasma_volume_ml",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Moment:
    """One time of a row: a cell for each bag, and what B has less A; empty for one bag."""

    cells: tuple[Cell, ...]
    apart: str


@dataclass(frozen=True, slots=True)
class GlanceRow:
    """One quantity: what it is now, and at each of the moments."""

    name: str
    unit: str
    now: str
    moments: tuple[Moment, ...]


@dataclass(frozen=True, slots=True)
class Glance:
    """The table. moments: the head of each time; hours: the same in short. marks: of the bags."""

    moments: tuple[str, ...]
    hours: tuple[str, ...]
    marks: tuple[str, ...]
    rows: tuple[GlanceRow, ...]


def glance(courses: Mapping[str, Course], minutes: float) -> Glance:
    """The table. minutes: over which the bag runs; courses by the bag's mark."""
    ends_h = next(iter(courses.values())).times_min[-1] / MINUTES_PER_HOUR
    bag_h = minutes / MINUTES_PER_HOUR
    times = [bag_h, ends_h] if bag_h < ends_h else [ends_h]
    rows = tuple(
        _row(quantity, curves_of(quantity, courses), times)
        for quantity in QUANTITIES
        if quantity.key in MAIN
    )
    short = tuple(duration(timedelta(hours=hours)) for hours in times)
    return Glance(_heads(times, bag_h), short, tuple(courses), rows)


def _heads(times: Sequence[float], bag_h: float) -> tuple[str, ...]:
    last = hours_words(times[-1])
    if len(times) > 1:
        return f"bag in, {duration(timedelta(hours=bag_h))}", last
    return (f"{last}, {'still running' if bag_h > times[-1] else 'bag in'}",)


def _row(quantity: Quantity, curves: Sequence[Curve], times: Sequence[float]) -> GlanceRow:
    places = quantity.scale.places
    return GlanceRow(
        name=quantity.name,
        unit=quantity.unit,
        now=number(curves[0].mid[0], places),
        moments=tuple(_moment(curves, hours, places) for hours in times),
    )


def _moment(curves: Sequence[Curve], hours: float, places: int) -> Moment:
    middles = [value_at(curve, curve.mid, hours) for curve in curves]
    cells = tuple(cell_at(curve, hours, places) for curve in curves)
    if len(middles) == 1:
        return Moment(cells, "")
    apart = middles[1] - middles[0]
    return Moment(cells, signed(apart, places) if round(apart, places) else ALIKE)
