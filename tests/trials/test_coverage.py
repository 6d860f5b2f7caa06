"""Bands for one person: how many measured changes they hold, and how wide they are.

A published figure is the mean of a group, which varies less than one person does; the share of
the people of a group inside the band is therefore worked out too, where the paper gives their SD.
"""

from collections.abc import Iterable
from statistics import NormalDist

import pytest

from app.chemistry.composition import Composition
from app.physiology.course.body import subject_of
from app.physiology.course.course import Course, course_of
from app.physiology.course.loads import Load
from app.review.trials.errors import by_quantity
from app.review.trials.score import PLASMA, Point
from tests.trials.files import read_trial_rows
from tests.trials.score import scored

# 80% bands are to hold 70 to 90% of the values that were held out.
LEAST, MOST = 0.70, 0.90
ENOUGH_POINTS = 8
Z_80 = 1.2816
SDS = {
    "na_sd": "sodium_mmol_l", "k_sd": "potassium_mmol_l", "ph_sd": "ph",
    "osmolality_sd": "osmolality_mosm_kg", "pv_change_sd": PLASMA, "pv_change_ml_sd": PLASMA,
}  # fmt: skip


@pytest.fixture(scope="module")
def points() -> tuple[Point, ...]:
    """Every point predicted with the model as it stands."""
    return scored().points


def share_inside(points: Iterable[Point]) -> float:
    inside = [point.inside for point in points]
    assert None not in inside
    return sum(map(bool, inside)) / len(inside)


def test_the_bands_hold_as_much_of_what_was_held_out_as_they_say(
    points: tuple[Point, ...],
) -> None:
    held_out = [point for point in points if point.held_out and point.seen]
    assert LEAST <= share_inside(held_out) <= MOST


def test_no_quantity_with_many_points_is_held_too_rarely(points: tuple[Point, ...]) -> None:
    rare = {
        quantity: share
        for quantity, some in by_quantity(points).items()
        if len(some) >= ENOUGH_POINTS and (share := share_inside(some)) < LEAST
    }
    assert not rare


def people_inside(points: Iterable[Point]) -> list[tuple[str, float]]:
    """For each change printed with the SD of its people: the share of them inside the band."""
    tables = {table["row_id"]: table for table, _ in read_trial_rows()}
    shares: list[tuple[str, float]] = []
    for point in points:
        table = tables[point.row]
        sds = [c for c, series in SDS.items() if series == point.quantity and table[c]]
        # The SD beside an absolute value is that of the level, not of the change.
        if table["value_kind"] != "change" or not sds:
            continue
        sd = float(table[sds[0]])
        if sds[0] == "pv_change_ml_sd":
            sd *= point.measured / float(table["plasma_volume_change_ml"])
        assert point.low is not None and point.high is not None
        people = NormalDist(point.measured, sd)
        shares.append((point.row, people.cdf(point.high) - people.cdf(point.low)))
    return shares


def test_most_people_of_the_groups_lie_in_the_band(points: tuple[Point, ...]) -> None:
    shares = [share for _, share in people_inside(points)]
    assert len(shares) >= ENOUGH_POINTS
    assert sum(shares) / len(shares) >= 0.6


def of_one(load: Load, minutes: float) -> Course:
    man = subject_of(weight_kg=70, age_years=None, sex="male", height_cm=None, results={})
    return course_of(man, [load], horizon_min=minutes, step_min=minutes)


SALINE = Composition(sodium_mmol_l=154, chloride_mmol_l=154)
POTASSIUM = Composition(sodium_mmol_l=154, potassium_mmol_l=200, chloride_mmol_l=354)
ALBUMIN = Composition(sodium_mmol_l=130, chloride_mmol_l=100, albumin_g_l=200)


# SDs between people for such loads: seed_data/trials/README.md and the rows with an SD.
@pytest.mark.parametrize(
    ("load", "quantity", "sd_from", "sd_to"),
    [
        (Load(SALINE, 2.0, 0, 60), "chloride_mmol_l", 1.0, 3.0),
        (Load(SALINE, 2.0, 0, 60), "bicarbonate_mmol_l", 1.0, 3.0),
        (Load(SALINE, 2.0, 0, 60), "ph", 0.03, 0.05),
        (Load(POTASSIUM, 0.1, 0, 60), "potassium_mmol_l", 0.3, 0.4),
        (Load(POTASSIUM, 0.2, 0, 60), "potassium_mmol_l", 0.3, 0.5),
        (Load(ALBUMIN, 0.21, 0, 30), PLASMA, 0.04, 0.07),
        (Load(SALINE, 1.0, 0, 30), PLASMA, 0.04, 0.07),
    ],
)
def test_a_band_is_as_wide_as_people_differ(
    load: Load, quantity: str, sd_from: float, sd_to: float
) -> None:
    band = of_one(load, load.duration_min).series[quantity]
    scale = band.mid[0] if quantity == PLASMA else 1.0
    sd = (band.high[-1] - band.low[-1]) / (2 * Z_80) / scale
    assert sd_from <= sd <= sd_to
