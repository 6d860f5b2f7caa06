"""Acid and base passed."""

import pytest

from app.chemistry.composition import Composition
from app.physiology.course.bands import Band
from app.physiology.course.body import subject_of
from app.physiology.course.course import course_of
from app.physiology.course.loads import Load

SALINE = Composition(sodium_mmol_l=154, chloride_mmol_l=154)
BASE = Composition(sodium_mmol_l=1000, bicarbonate_mmol_l=1000)


def bicarbonate(
    load: Load, *conditions: str, hours: float = 48, name: str = "bicarbonate_mmol_l"
) -> Band:
    subject = subject_of(
        weight_kg=70, age_years=30, sex="male", height_cm=None, results={},
        conditions=frozenset(conditions),
    )  # fmt: skip
    course = course_of(subject, [load], horizon_min=hours * 60, step_min=60, samples=2)
    return course.series[name]


def test_base_is_passed_within_hours() -> None:
    mid = bicarbonate(Load(BASE, 0.2, 0, 10)).mid
    assert mid[1] > 29
    assert mid[24] < mid[0] + 4
    kept = bicarbonate(Load(BASE, 0.2, 0, 10), "anuria").mid
    assert kept[24] == pytest.approx(kept[6], abs=0.5)


def test_acid_is_passed_over_a_day_or_two_not_within_hours() -> None:
    mid = bicarbonate(Load(SALINE, 2.0, 0, 60)).mid
    fallen = [mid[0] - value for value in mid]
    assert fallen[4] > 0.6 * max(fallen)
    assert abs(fallen[48]) < 0.35 * max(fallen)


@pytest.mark.parametrize("condition", ["renal_tubular_acidosis", "anuria"])
def test_some_pass_no_acid(condition: str) -> None:
    load = Load(SALINE, 2.0, 0, 60)
    ill, well = bicarbonate(load, condition).mid, bicarbonate(load).mid
    assert ill[-1] < well[-1] - 0.3
