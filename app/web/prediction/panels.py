"""One picture for each quantity, with its table and the whole of it in a spoken sentence."""

from bisect import bisect_left
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

from app.physiology.course.bands import Band
from app.physiology.course.course import Course
from app.web.pictures.curves import Curve, Plot, Result, Scale, draw
from app.web.pictures.extremes import extreme_of
from app.web.pictures.limit_lines import Bound
from app.web.prediction.start.standing import Standing
from app.web.show import Aligned, aligned, number, span

MINUTES_PER_HOUR: Final = 60.0
ML_PER_L: Final = 1000.0
NOT_DRAWN: Final = "not drawn"
KNOWN: Final = Standing()
# A band so wide at its end, mmol/L, makes a decimal say too much.
WIDE: Final = 2.0
# From so many litres on one decimal is enough.
LARGE_L: Final = 2.0
NEXT_TO_NOTHING: Final = 1e-6
WHOLE: Final = ("sodium", "chloride")
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
    usual: tuple[float, float] | None = None


# The least that an axis spans: what a person at the bedside would call a change, so that less looks
# like little. Volumes by a share of what they are, for people of every size. Usual ranges are of
# adults (textbook); haematocrit has none, since it differs too much with age and sex.
QUANTITIES: Final = (
    Quantity("sodium_mmol_l", "Sodium", "mmol/L", Scale(1, 12), "sodium", "sodium",
             usual=(135.0, 145.0)),
    Quantity("potassium_mmol_l", "Potassium", "mmol/L", Scale(1, 2.5), "potassium", "potassium",
             usual=(3.5, 5.0)),
    Quantity("chloride_mmol_l", "Chloride", "mmol/L", Scale(1, 12), "chloride", "chloride",
             usual=(98.0, 107.0)),
    Quantity("bicarbonate_mmol_l", "Bicarbonate", "mmol/L", Scale(1, 10), "bicarbonate",
             "bicarbonate", usual=(22.0, 28.0)),
    Quantity("ph", "pH", "", Scale(2, 0.3), "ph", usual=(7.35, 7.45)),
    Quantity("glucose_mmol_l", "Glucose", "mmol/L", Scale(1, 8), "glucose",
             usual=(4.0, 10.0)),
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
    more. note: what else is said of this quantity. basis: what it begins with, where that is no
    result. stops: from when it is not drawn, and why. matters: it moves more than its band, or is
    out of range. reach: the lowest and the highest of its band.
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
    basis: str = ""
    stops: tuple[str, ...] = ()
    matters: bool = True
    reach: tuple[float, float] = (0.0, 0.0)


def curves_of(
    quantity: Quantity, courses: Mapping[str, Course], begins: Standing = KNOWN
) -> tuple[Curve, ...]:
    """A curve for each bag by its mark, as far as it may be drawn; one alone needs no mark."""
    alone = len(courses) == 1
    return tuple(
        replace(
            _curve("" if alone else mark, _drawn(course, quantity.key), quantity),
            assumed=begins.is_assumed,
        )
        for mark, course in courses.items()
    )


def _drawn(course: Course, key: str) -> tuple[Sequence[float], Band]:
    """Times and band of a series up to where it is withheld; two times at least."""
    band = course.series[key]
    ends = next((one.from_min for one in course.withheld if one.series == key), None)
    if ends is None:
        return course.times_min, band
    count = max(sum(at <= ends for at in course.times_min), 2)
    cut = (values[:count] for values in (band.mid, band.low, band.high))
    return course.times_min[:count], Band(*cut)


def _curve(mark: str, drawn: tuple[Sequence[float], Band], quantity: Quantity) -> Curve:
    times_min, band = drawn
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
    begins: tuple[Standing, float] = (KNOWN, 0.0),
) -> Panel:
    """One quantity's picture and table. begins: with what, and how far is looked, h."""
    named = [Result(r.hours, r.value, f"{quantity.name} {r.title}") for r in results]
    standing, ahead_h = begins
    quantity = read_to(quantity, curves)
    ends_h = max(ahead_h, *(curve.hours[-1] for curve in curves))
    return Panel(
        key=quantity.key,
        name=quantity.name,
        unit=quantity.unit,
        kind=quantity.kind,
        plot=draw(curves, named, bounds, quantity.scale, ends_h),
        spoken=_spoken(quantity, curves, standing),
        marks=tuple(curve.mark for curve in curves),
        rows=tuple(_row(h, curves, quantity) for h in told_at(ends_h)),
        basis=standing.word,
        matters=matters(quantity, curves) or bool(bounds),
        reach=(min(min(c.low) for c in curves), max(max(c.high) for c in curves)),
    )


def read_to(quantity: Quantity, curves: Sequence[Curve]) -> Quantity:
    """The quantity with no more decimals than its band is worth."""
    places = quantity.scale.places
    widest = max(curve.high[-1] - curve.low[-1] for curve in curves)
    if quantity.result in WHOLE and widest >= WIDE:
        places = 0
    if quantity.unit == "L" and curves[0].mid[0] >= LARGE_L:
        places = 1
    return replace(quantity, scale=replace(quantity.scale, places=places))


def matters(quantity: Quantity, curves: Sequence[Curve]) -> bool:
    """Whether it moves more than its band is wide, or leaves the usual range: its band does, or
    its middle where it begins with what nobody measured.
    """
    if any(_moves(curve) for curve in curves):
        return True
    if quantity.usual is None:
        return False
    low, high = quantity.usual
    return any(min(least) < low or max(most) > high for least, most in map(_ends, curves))


def _ends(curve: Curve) -> tuple[Sequence[float], Sequence[float]]:
    return (curve.mid, curve.mid) if curve.assumed else (curve.low, curve.high)


def _moves(curve: Curve) -> bool:
    return any(
        abs(mid - curve.mid[0]) > (high - low)
        for mid, low, high in zip(curve.mid[1:], curve.low[1:], curve.high[1:], strict=True)
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
    """The middle and the band at a time, h from now; no figure where the curve is not drawn."""
    if hours > curve.hours[-1] + NEXT_TO_NOTHING:
        return Cell(Aligned(NOT_DRAWN), "")
    mid, low, high = (value_at(curve, v, hours) for v in (curve.mid, curve.low, curve.high))
    return Cell(aligned(mid, places), span(min(low, mid), max(high, mid), places))


def hours_words(hours: float) -> str:
    """A time from now as it is said: "now", "30 min", "4 h"."""
    if not hours:
        return "now"
    return f"{number(hours)} h" if hours >= 1 else f"{number(hours * MINUTES_PER_HOUR)} min"


def _spoken(quantity: Quantity, curves: Sequence[Curve], begins: Standing) -> str:
    said = []
    places = quantity.scale.places
    for curve in curves:
        end = curve.hours[-1]
        first = f"{number(curve.mid[0], places)} {begins.word}".strip()
        of = f"{curve.mark}: " if curve.mark else ""
        turn = _turn_words(quantity, curve)
        said.append(f"{of}{first} now, {turn}{_said(curve, end, places)}")
    return f"{quantity.name} {quantity.unit}".strip() + ". " + ". ".join(said)


def _turn_words(quantity: Quantity, curve: Curve) -> str:
    """The highest or lowest with its hour, where it is not an end."""
    turn = extreme_of(curve.hours, curve.mid, quantity.scale.least(curve.mid[0]))
    if turn is None:
        return ""
    return f"{turn.word} {_said(curve, turn.hours, quantity.scale.places)}, "


def _said(curve: Curve, hours: float, places: int) -> str:
    cell = cell_at(curve, hours, places)
    return f"{cell.mid} ({cell.band}) at {hours_words(hours)}"
