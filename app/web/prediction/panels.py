"""One picture for each quantity, with its table and the whole of it in a spoken sentence."""

from bisect import bisect_left
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from app.physiology.course.bands import Band
from app.physiology.course.course import Course
from app.web.pictures.curves import Curve, Plot, Result, Scale, draw
from app.web.pictures.limit_lines import Bound
from app.web.show import Aligned, aligned, number, span

MINUTES_PER_HOUR: Final = 60.0
ML_PER_L: Final = 1000.0
# When values are told, h.
TOLD_AT_H: Final = (0.0, 0.5, 1.0, 2.0, 4.0, 8.0, 12.0, 24.0)


@dataclass(frozen=True, slots=True)
class Quantity:
    """A series of the course as people know it. result: the measured result beside it, if any.

    divide: the series' unit over the unit shown. kind: its class in the sheet.
    """

    key: str
    name: str
    unit: str
    scale: Scale
    result: str = ""
    kind: str = "plain"
    divide: float = 1.0


# The least that an axis spans: what a person at the bedside would call a change, so that less looks
# like little. Volumes by a share of what they are, for people of every size.
QUANTITIES: Final = (
    Quantity("sodium_mmol_l", "Sodium", "mmol/L", Scale(1, 12), "sodium", "sodium"),
    Quantity("potassium_mmol_l", "Potassium", "mmol/L", Scale(1, 2.5), "potassium", "potassium"),
    Quantity("chloride_mmol_l", "Chloride", "mmol/L", Scale(1, 12), "chloride", "chloride"),
    Quantity("bicarbonate_mmol_l", "Bicarbonate", "mmol/L", Scale(1, 10), "bicarbonate",
             "bicarbonate"),
    Quantity("ph", "pH", "", Scale(2, 0.3), "ph"),
    Quantity("glucose_mmol_l", "Glucose", "mmol/L", Scale(1, 8), "glucose"),
    Quantity("osmolality_mosm_kg", "Osmolality", "mOsm/kg", Scale(0, 30), "osmolality"),
    Quantity("haematocrit", "Haematocrit", "%", Scale(1, 12), "haematocrit"),
    Quantity("plasma_volume_ml", "Plasma volume", "L", Scale(2, 0.1, 0.5), divide=ML_PER_L),
    Quantity("interstitial_volume_ml", "Interstitial volume", "L", Scale(2, 0.1, 0.4),
             divide=ML_PER_L),
    Quantity("intracellular_volume_ml", "Cell volume", "L", Scale(2, 0.1, 0.15), divide=ML_PER_L),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Cell:
    """The middle and the band of one bag at one time."""

    mid: Aligned
    band: str


@dataclass(frozen=True, slots=True)
class TimeRow:
    """One time of the table, a cell for each bag."""

    at: str
    cells: tuple[Cell, ...]


@dataclass(frozen=True, slots=True)
class Panel:
    """One quantity: its picture, table, and what a screen reader says of the picture.

    truth: how far off it was in trials, in short; truth_full: all of it, empty where that says no
    more. note: what else is said of this quantity.
    """

    key: str
    name: str
    unit: str
    kind: str
    plot: Plot
    spoken: str
    marks: tuple[str, ...]
    rows: tuple[TimeRow, ...]
    truth: str = ""
    truth_full: str = ""
    note: str = ""


def curves_of(quantity: Quantity, courses: Mapping[str, Course]) -> tuple[Curve, ...]:
    """A curve for each bag by its mark; one alone needs no mark."""
    alone = len(courses) == 1
    return tuple(
        _curve("" if alone else mark, course.times_min, course.series[quantity.key], quantity)
        for mark, course in courses.items()
    )


def _curve(mark: str, times_min: Sequence[float], band: Band, quantity: Quantity) -> Curve:
    hours = tuple(t / MINUTES_PER_HOUR for t in times_min)
    mid, low, high = (
        tuple(float(v) / quantity.divide for v in values)
        for values in (band.mid, band.low, band.high)
    )
    return Curve(mark, hours, mid, low, high)


def panel_of(
    quantity: Quantity,
    curves: Sequence[Curve],
    results: Sequence[Result],
    bounds: Sequence[Bound] = (),
) -> Panel:
    """One quantity's picture and table."""
    named = [Result(r.hours, r.value, f"{quantity.name} {r.title}") for r in results]
    return Panel(
        key=quantity.key,
        name=quantity.name,
        unit=quantity.unit,
        kind=quantity.kind,
        plot=draw(curves, named, bounds, quantity.scale),
        spoken=_spoken(quantity, curves),
        marks=tuple(curve.mark for curve in curves),
        rows=tuple(_row(h, curves, quantity) for h in told_at(curves[0].hours[-1])),
    )


def told_at(ahead_h: float) -> tuple[float, ...]:
    """The times of a table, h: the usual ones as far as is looked ahead."""
    return tuple(h for h in TOLD_AT_H if h <= ahead_h)


def value_at(curve: Curve, values: Sequence[float], hours: float) -> float:
    """A series between its steps, by a straight line; its ends beyond them."""
    at = min(max(bisect_left(curve.hours, hours), 1), len(values) - 1)
    before, after = curve.hours[at - 1], curve.hours[at]
    share = min(max((hours - before) / (after - before), 0.0), 1.0)
    return values[at - 1] + share * (values[at] - values[at - 1])


def _row(hours: float, curves: Sequence[Curve], quantity: Quantity) -> TimeRow:
    places = quantity.scale.places
    return TimeRow(hours_words(hours), tuple(cell_at(c, hours, places) for c in curves))


def cell_at(curve: Curve, hours: float, places: int) -> Cell:
    """The middle and the band at a time, h from now."""
    mid, low, high = (value_at(curve, v, hours) for v in (curve.mid, curve.low, curve.high))
    return Cell(aligned(mid, places), span(min(low, mid), max(high, mid), places))


def hours_words(hours: float) -> str:
    """A time from now as it is said: "now", "30 min", "4 h"."""
    if not hours:
        return "now"
    return f"{number(hours)} h" if hours >= 1 else f"{number(hours * MINUTES_PER_HOUR)} min"


def _spoken(quantity: Quantity, curves: Sequence[Curve]) -> str:
    said = []
    for curve in curves:
        end = curve.hours[-1]
        cell = cell_at(curve, end, quantity.scale.places)
        begins = number(curve.mid[0], quantity.scale.places)
        of = f"{curve.mark}: " if curve.mark else ""
        said.append(f"{of}{begins} now, {cell.mid} ({cell.band}) at {hours_words(end)}")
    return f"{quantity.name} {quantity.unit}".strip() + ". " + ". ".join(said)
