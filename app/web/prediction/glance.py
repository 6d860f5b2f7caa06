"""The main quantities at a glance: now, when the bag is in, and at the end; A beside B."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import timedelta
from types import MappingProxyType
from typing import Final

from app.physiology.course.course import Course
from app.web.pictures.curves import Curve
from app.web.prediction.panels import (
    MINUTES_PER_HOUR,
    NOT_DRAWN,
    QUANTITIES,
    Cell,
    Quantity,
    cell_at,
    curves_of,
    hours_words,
    read_to,
    value_at,
)
from app.web.prediction.start.standing import Standing
from app.web.show import Aligned, aligned, amount, duration, number, signed, span

ALIKE: Final = "alike"
MAIN: Final = (
    "sodium_mmol_l", "potassium_mmol_l", "chloride_mmol_l", "bicarbonate_mmol_l", "ph",
    "glucose_mmol_l", "haematocrit", "plasma_volume_ml",
)  # fmt: skip
PLASMA: Final = "plasma_volume_ml"
IN_PLASMA: Final = "in plasma"
# When a bolus is looked at besides its end, h; of two bags, the last of these.
BOLUS_AT_H: Final = (0.5, 1.0, 4.0)
# What is still in plasma is told to so many mL.
TO_ML: Final = 10.0


@dataclass(frozen=True, slots=True)
class Moment:
    """One time of a row: a cell for each bag, and what B has less A; empty for one bag."""

    cells: tuple[Cell, ...]
    apart: str


@dataclass(frozen=True, slots=True)
class GlanceRow:
    """One quantity: what it is now and what that rests on, and each of the moments.

    basis: empty for a result.
    """

    name: str
    unit: str
    now: str
    moments: tuple[Moment, ...]
    basis: str = ""


@dataclass(frozen=True, slots=True)
class Glance:
    """The table. moments: the head of each time; hours: the same in short. marks: of the bags.
    still: of a bolus, how much of it is in plasma; None for none.
    """

    moments: tuple[str, ...]
    hours: tuple[str, ...]
    marks: tuple[str, ...]
    rows: tuple[GlanceRow, ...]
    still: GlanceRow | None = None


@dataclass(frozen=True, slots=True)
class Given:
    """What is looked at: over how many minutes the bag runs, what each series begins with, and the
    volume of a bolus, mL; 0 for none.
    """

    minutes: float
    begins: Mapping[str, Standing] = field(default_factory=lambda: MappingProxyType({}))
    bolus_ml: float = 0.0


def glance(courses: Mapping[str, Course], given: Given) -> Glance:
    """The table, of what is drawn; courses by the bag's mark."""
    ends_h = next(iter(courses.values())).times_min[-1] / MINUTES_PER_HOUR
    bag_h = given.minutes / MINUTES_PER_HOUR
    times = _times(bag_h, ends_h, bolus=bool(given.bolus_ml), two=len(courses) > 1)
    rows = tuple(
        _row(quantity, courses, times, given.begins.get(quantity.key, Standing()))
        for quantity in QUANTITIES
        if quantity.key in MAIN and not given.begins.get(quantity.key, Standing()).why_none
    )
    short = tuple(_takes(hours) for hours in times)
    still = _still(courses, times, given.bolus_ml) if given.bolus_ml else None
    return Glance(_heads(times, bag_h), short, tuple(courses), rows, still)


def _times(bag_h: float, ends_h: float, *, bolus: bool, two: bool) -> list[float]:
    """The times that are told, h: the bag's end and the end, and of a bolus those after it."""
    if bag_h >= ends_h:
        return [ends_h]
    after = [h for h in BOLUS_AT_H if bag_h < h < ends_h] if bolus else []
    return [bag_h, *(after[-1:] if two else after), ends_h]


def _heads(times: Sequence[float], bag_h: float) -> tuple[str, ...]:
    last = hours_words(times[-1])
    if len(times) > 1:
        return f"bag in, {_takes(bag_h)}", *(hours_words(hours) for hours in times[1:])
    return (f"{last}, {'still running' if bag_h > times[-1] else 'bag in'}",)


def _takes(hours: float) -> str:
    """A length of time to the minute."""
    return duration(timedelta(minutes=round(hours * MINUTES_PER_HOUR)))


def _row(
    quantity: Quantity, courses: Mapping[str, Course], times: Sequence[float], begins: Standing
) -> GlanceRow:
    curves = curves_of(quantity, courses, begins)
    places = read_to(quantity, curves).scale.places
    return GlanceRow(
        name=quantity.name,
        unit=quantity.unit,
        now=number(curves[0].mid[0], places),
        moments=tuple(_moment(curves, hours, places) for hours in times),
        basis=begins.word,
    )


def _moment(curves: Sequence[Curve], hours: float, places: int) -> Moment:
    cells = tuple(cell_at(curve, hours, places) for curve in curves)
    if len(curves) == 1:
        return Moment(cells, "")
    if any(str(cell.mid) == NOT_DRAWN for cell in cells):
        return Moment(cells, NOT_DRAWN)
    first, second = (value_at(curve, curve.mid, hours) for curve in curves)
    apart = second - first
    return Moment(cells, signed(apart, places) if round(apart, places) else ALIKE)


def _still(courses: Mapping[str, Course], times: Sequence[float], bolus_ml: float) -> GlanceRow:
    """How much more plasma there is than now, to ten mL."""
    volume = next(quantity for quantity in QUANTITIES if quantity.key == PLASMA)
    curves = curves_of(volume, courses)
    return GlanceRow(
        name=f"Of {amount(bolus_ml, 'mL')}, {IN_PLASMA}",
        unit="mL",
        now="0",
        moments=tuple(
            Moment(tuple(_more(curve, hours, volume.divide) for curve in curves), "")
            for hours in times
        ),
    )


def _more(curve: Curve, hours: float, divide: float) -> Cell:
    if hours > curve.hours[-1]:
        return Cell(Aligned(NOT_DRAWN), "")
    mid, low, high = (
        round((value_at(curve, values, hours) - curve.mid[0]) * divide / TO_ML) * TO_ML
        for values in (curve.mid, curve.low, curve.high)
    )
    return Cell(aligned(mid, 0), span(min(low, mid), max(high, mid), 0))
