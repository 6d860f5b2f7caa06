"""Water passed, and kept."""

import pytest

from app.chemistry.composition import Composition
from app.physiology.course.bands import Band
from app.physiology.course.body import subject_of
from app.physiology.course.course import course_of
from app.physiology.course.loads import Load

SUGAR = Composition(glucose_g_l=50)
SALINE = Composition(sodium_mmol_l=154, chloride_mmol_l=154)


def sodium(
    start: float, load: Load, *conditions: str, kg: float = 60, keeps_water: bool | None = None
) -> Band:
    subject = subject_of(
        weight_kg=kg, age_years=None, sex="female", height_cm=None, results={"sodium": start},
        conditions=frozenset(conditions),
    )  # fmt: skip
    return course_of(
        subject, [load], horizon_min=1440, step_min=60, samples=200, keeps_water=keeps_water
    ).series["sodium_mmol_l"]  # fmt: skip


@pytest.mark.parametrize("start", [150, 160, 175])
def test_water_mends_a_high_sodium_by_as_much_as_it_thins(start: float) -> None:
    band = sodium(start, Load(SUGAR, 2.0, 0, 480))
    water_l = 0.5 * 60
    assert band.mid[-1] == pytest.approx(start * water_l / (water_l + 2), abs=1.5)
    assert band.low[-1] < start * water_l / (water_l + 2) < band.high[-1]


@pytest.mark.parametrize("condition", ["siadh", "postoperative", "pneumonia", "nausea"])
def test_who_keeps_water_is_thinned_and_the_band_holds_all_kept(condition: str) -> None:
    load = Load(SUGAR, 3.0, 0, 1440)
    ill, well = sodium(140, load, condition), sodium(140, load)
    all_kept = sodium(140, load, keeps_water=True).mid[-1]
    assert ill.mid[-1] < well.mid[-1] - 5
    assert ill.low[-1] < all_kept < ill.mid[-1] + 1.5


def test_a_low_sodium_falls_on_water_unless_it_is_passed() -> None:
    load = Load(SUGAR, 2.0, 0, 1440)
    middle, passed = sodium(118, load), sodium(118, load, keeps_water=False)
    assert middle.mid[-1] < 112
    assert 114 < passed.mid[-1] <= 118


def test_salt_given_to_who_lacked_it_may_let_water_run_off() -> None:
    load = Load(SALINE, 1.0, 0, 240)
    band = sodium(105, load, "hypovolaemia")
    assert band.mid[-1] == pytest.approx(106, abs=1.5)
    assert band.high[-1] > 115
    assert sodium(105, load, "hypovolaemia", keeps_water=False).mid[-1] > 112


def test_nobody_s_sodium_is_passed_up_beyond_normal() -> None:
    band = sodium(110, Load(SALINE, 2.0, 0, 600), "hypovolaemia", keeps_water=False)
    assert max(band.mid) < 145


def test_a_well_woman_passes_a_litre_of_water_within_hours() -> None:
    band = sodium(140, Load(SUGAR, 1.0, 0, 60))
    assert min(band.mid) < 139 < 139.5 < band.mid[8]
