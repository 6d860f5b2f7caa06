"""Potassium passed."""

import pytest

from app.chemistry.composition import Composition
from app.physiology.course.body import subject_of
from app.physiology.course.course import course_of
from app.physiology.course.loads import Load

SALINE = Composition(sodium_mmol_l=154, chloride_mmol_l=154)
POTASSIUM = Composition(potassium_mmol_l=350, chloride_mmol_l=350)


def potassium(start: float, load: Load, *conditions: str) -> tuple[float, ...]:
    subject = subject_of(
        weight_kg=70, age_years=30, sex="male", height_cm=None, results={"potassium": start},
        conditions=frozenset(conditions),
    )  # fmt: skip
    course = course_of(subject, [load], horizon_min=1440, step_min=60, samples=2)
    return course.series["potassium_mmol_l"].mid


def test_healthy_kidneys_bring_a_high_one_down_once_salt_runs_and_failing_ones_little() -> None:
    load = Load(SALINE, 3.0, 0, 360)
    well, ill = potassium(7.5, load), potassium(7.5, load, "anuria")
    assert well[6] < 7.0 and well[24] < 6.6
    assert ill[24] > 7.2


def test_half_a_mmol_for_each_kg_in_an_hour_raises_it_by_about_six_tenths() -> None:
    # Rosa 1980, healthy men, from memory: 0.6.
    mid = potassium(3.9, Load(POTASSIUM, 0.1, 0, 60))
    assert mid[1] - mid[0] == pytest.approx(0.65, abs=0.2)
    assert mid[4] < mid[0] + 0.3


def test_a_low_one_that_is_mended_is_not_passed_again() -> None:
    mid = potassium(2.8, Load(POTASSIUM, 0.1, 0, 60))
    assert mid[24] > 2.9


@pytest.mark.parametrize("ill", ["acute_kidney_injury", "severe_kidney_failure", "anuria"])
def test_a_high_one_hardly_comes_down_where_kidneys_fail(ill: str) -> None:
    mid = potassium(6.1, Load(SALINE, 1.0, 0, 960), ill)
    assert min(mid) > 5.95
