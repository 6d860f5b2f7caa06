"""The change predicted for each published group beside the change measured in it."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import ceil
from typing import Final

import numpy as np

from app.physiology.course.charges import bicarbonate_at, ph_that_balances, weak_charge
from app.physiology.course.course import Course, course_of
from app.physiology.course.state import INTERSTITIAL_ALBUMIN
from app.review.trials.fluids import FluidKind, TrialFluid, band_of, dose_of, kind_of
from app.review.trials.group import Group, assumed_of, groups_of
from app.review.trials.rows import SERIES_OF, Comparison, Row

PERCENT: Final = 100.0
ML_PER_L: Final = 1000.0
PLASMA: Final = "plasma_volume_ml"
# People drawn for the band: enough that its edges move by less than a picture shows.
PEOPLE: Final = 200
# Siggaard-Andersen's form, as in app/physiology/acid_base.py.
SBE_SHARE, SBE_BICARBONATE, SBE_PER_PH, NORMAL_PH = 0.93, 24.4, 14.8, 7.4


@dataclass(frozen=True, slots=True)
class Point:
    """One quantity of one row: the change measured and the change predicted.

    Plasma volume is in % of the start, haematocrit in points, all else in the series' own unit.
    low and high: the band of one person; None where the report is older than bands. against: of a
    difference, the fluid whose change is taken off. people is None where the size of the group was
    not shown.
    """

    row: str
    study: str
    arm: str
    citation: str
    population: str
    people: int | None
    fluid: str
    against: str
    kind: FluidKind
    band: int
    dose: float
    minutes: float
    quantity: str
    measured: float
    predicted: float
    low: float | None
    high: float | None
    held_out: bool
    viewed: bool
    seen: bool
    assumed: str
    notes: str

    @property
    def off(self) -> float:
        """Predicted less measured."""
        return self.predicted - self.measured

    @property
    def inside(self) -> bool | None:
        """Whether the change measured lies in the band of one person; None without a band."""
        if self.low is None or self.high is None:
            return None
        return self.low <= self.measured <= self.high


def points_of(
    comparisons: Iterable[Comparison], fluids: Mapping[str, TrialFluid]
) -> tuple[Point, ...]:
    """Every quantity of every row. Raises KeyError for a fluid unknown, BaselineError as it is."""
    return tuple(point for one in comparisons for point in _row_points(one, fluids))


def _row_points(one: Comparison, fluids: Mapping[str, TrialFluid]) -> list[Point]:
    row, fluid = one.row, fluids[one.row.fluid_id]
    groups = groups_of(one, fluid.composition)
    kind = kind_of(fluid.composition)
    if kind is None:
        raise ValueError(f"{row.fluid_id}: of no kind")
    litres, weight = groups[0].load.volume_l, groups[0].subject.weight_kg
    dose = dose_of(fluid.composition, kind, volume_l=litres, weight_kg=weight)
    given, other, against = _middle(groups, row), None, ""
    if row.kind == "difference":
        taken_off = fluids[row.against_fluid_id]
        against = taken_off.name
        other = _middle(groups_of(one, taken_off.composition), row)
    point = _maker(row, "; ".join(assumed_of(groups)), (fluid.name, against, kind, dose))
    return [
        point(series, changes)
        for column, series in SERIES_OF.items()
        if (changes := _changes(one, column, given, other)) is not None
    ]


@dataclass(frozen=True, slots=True)
class Sides:
    """Every series before, and at the moment of the row: the middle and the band."""

    before: Mapping[str, float]
    after: Mapping[str, float]
    low: Mapping[str, float]
    high: Mapping[str, float]


@dataclass(frozen=True, slots=True)
class _Changes:
    measured: float
    predicted: float
    low: float
    high: float


def _middle(groups: Sequence[Group], row: Row) -> Sides:
    """A group of both sexes lies midway between a man and a woman."""
    people = [predicted(group, row.time_min, row.values.get("pco2_mmhg")) for group in groups]
    return Sides(*(_mean([getattr(one, side) for one in people]) for side in Sides.__slots__))


def _mean(people: Sequence[Mapping[str, float]]) -> dict[str, float]:
    return {name: sum(one[name] for one in people) / len(people) for name in people[0]}


def _maker(
    row: Row, assumed: str, given: tuple[str, str, FluidKind, float]
) -> Callable[[str, _Changes], Point]:
    name, against, kind, dose = given

    def make(quantity: str, changes: _Changes) -> Point:
        return Point(
            row.id, row.study, row.arm, row.citation, row.population, row.people,
            name, against, kind, band_of(kind, dose), dose, row.time_min,
            quantity, changes.measured, changes.predicted, changes.low, changes.high,
            row.held_out, row.viewed, row.seen, assumed, row.notes,
        )  # fmt: skip

    return make


def _changes(one: Comparison, column: str, sides: Sides, other: Sides | None) -> _Changes | None:
    """Measured and predicted change; None where the row does not give the quantity."""
    row, series = one.row, SERIES_OF[column]
    value = row.values.get(column)
    if value is None or (column.endswith("_ml") and "plasma_volume_change_pct" in row.values):
        return None
    start = sides.before[series]
    # What the other fluid of a difference did to the same people is taken off.
    less = start if other is None else start + other.after[series] - other.before[series]
    share = PERCENT / start if series == PLASMA else 1.0
    guessed = [(side[series] - less) * share for side in (sides.after, sides.low, sides.high)]
    if series == PLASMA:
        return _Changes(value if column.endswith("_pct") else value * share, *guessed)
    if row.kind == "percent_change":
        return _Changes(value / PERCENT * start, *guessed)
    if row.kind == "absolute":
        return _Changes(value - one.baseline[column], *guessed) if column in one.baseline else None
    return _Changes(value, *guessed)


def predicted(group: Group, time_min: float, pco2_mmhg: float | None) -> Sides:
    """Every series at the start and at a time, the gas at the carbon dioxide measured then."""
    course = course_of(
        group.subject, (group.load,), group.losses, horizon_min=ceil(time_min), step_min=1.0,
        samples=PEOPLE,
    )  # fmt: skip
    before, after = _at(course, 0.0, "mid"), _at(course, time_min, "mid")
    low, high = _at(course, time_min, "low"), _at(course, time_min, "high")
    if pco2_mmhg is not None:
        for name, value in _gas_at(group, after, pco2_mmhg).items():
            low[name] += value - after[name]
            high[name] += value - after[name]
            after[name] = value
    return Sides(before, after, low, high)


def _at(course: Course, time_min: float, side: str) -> dict[str, float]:
    return {
        name: float(np.interp(time_min, course.times_min, getattr(band, side)))
        for name, band in course.series.items()
    }


def _gas_at(group: Group, after: Mapping[str, float], pco2_mmhg: float) -> dict[str, float]:
    """pH, bicarbonate and base excess of the same charges at another carbon dioxide."""
    outside = after[PLASMA] + after["interstitial_volume_ml"]
    share = after[PLASMA] / outside
    mean = after["albumin_g_l"] * (share + INTERSTITIAL_ALBUMIN * (1 - share))
    albumin, phosphate = np.array([mean]), np.array([group.subject.phosphate_mmol_l])
    charge = after["bicarbonate_mmol_l"] + weak_charge(albumin, phosphate, after["ph"])
    pco2 = np.array([pco2_mmhg])
    ph = ph_that_balances(charge, albumin, phosphate, pco2)
    bicarbonate = bicarbonate_at(ph, pco2)
    excess = SBE_SHARE * (bicarbonate - SBE_BICARBONATE + SBE_PER_PH * (ph - NORMAL_PH))
    found = {"ph": ph, "bicarbonate_mmol_l": bicarbonate, "base_excess_mmol_l": excess}
    return {name: float(value[0]) for name, value in found.items()}
