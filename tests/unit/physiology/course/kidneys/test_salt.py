"""Excess salt."""

import numpy as np
import pytest

from app.chemistry.composition import Composition
from app.physiology.course.body import Subject, subject_of
from app.physiology.course.course import Course, course_of
from app.physiology.course.kidneys.salt import pass_excess, pass_sodium
from app.physiology.course.loads import Load
from app.physiology.course.parameters import drawn
from app.physiology.course.state import begin

PEOPLE = drawn(2)
SALINE = Composition(sodium_mmol_l=154, chloride_mmol_l=154)
LACTATED = Composition(
    sodium_mmol_l=130, potassium_mmol_l=4, calcium_mmol_l=1.35, chloride_mmol_l=109,
    lactate_mmol_l=28,
)  # fmt: skip
VOLUMES = ("plasma_volume_ml", "interstitial_volume_ml", "intracellular_volume_ml")


def person(*conditions: str, **results: float) -> Subject:
    return subject_of(
        weight_kg=72, age_years=30, sex="male", height_cm=None, results=results,
        conditions=frozenset(conditions),
    )  # fmt: skip


def passed_ml(fluid: Composition, *conditions: str) -> float:
    course: Course = course_of(
        person(*conditions), [Load(fluid, 2.0, 0, 60)], horizon_min=360, step_min=60, samples=1
    )
    start, end = (sum(course.series[name].mid[at] for name in VOLUMES) for at in (0, -1))
    return start + 2000 - end


def test_more_is_passed_of_a_balanced_fluid_than_of_saline() -> None:
    # Reid 2003: 450 mL of urine in 6 h after saline, 1000 after a balanced fluid.
    assert passed_ml(SALINE) == pytest.approx(450, abs=200)
    assert passed_ml(LACTATED) == pytest.approx(1000, abs=300)


def test_the_dry_pass_none_before_they_are_filled_and_the_shocked_none_at_all() -> None:
    assert passed_ml(SALINE, "dehydration") < 0.6 * passed_ml(SALINE)
    assert passed_ml(SALINE, "septic_shock") == pytest.approx(0, abs=1e-6)


def test_sodium_passed_follows_plasma_s() -> None:
    passed = []
    for sodium in (140, 110):
        state, start = begin(person(sodium=sodium), PEOPLE)
        state.ecf = state.ecf + 1
        state.sodium = state.sodium * (state.ecf / start.ecf)
        before = state.sodium.copy()
        pass_excess(state, start, PEOPLE, 60)
        passed.append((before - state.sodium)[0])
    assert passed[1] == pytest.approx(passed[0] * 110 / 140, rel=0.01)


def test_a_raised_sodium_is_passed_though_the_volume_is_not() -> None:
    state, start = begin(person(), PEOPLE)
    state.sodium = state.sodium * 150 / 140
    before, water = state.sodium.copy(), state.water.copy()
    pass_sodium(state, start, PEOPLE, 60)
    mmol = (before - state.sodium)[0]
    assert 5 < mmol < 60
    assert mmol / (water - state.water)[0] > 150
    # A start as high is not touched.
    high, start = begin(person(sodium=150), PEOPLE)
    before = high.sodium.copy()
    pass_sodium(high, start, PEOPLE, 60)
    assert np.array_equal(high.sodium, before)


def test_chloride_is_held_until_it_is_normal_and_base_goes_instead() -> None:
    ill = person("vomiting", sodium=136, chloride=78, bicarbonate=44, potassium=2.6, pco2=50)
    fluid = Composition(sodium_mmol_l=154, potassium_mmol_l=40, chloride_mmol_l=194)
    course = course_of(ill, [Load(fluid, 3.0, 0, 720)], horizon_min=1440, step_min=60, samples=2)
    chloride, bicarbonate = (
        course.series[f"{name}_mmol_l"].mid for name in ("chloride", "bicarbonate")
    )
    assert chloride[-1] > chloride[12] > 88
    assert bicarbonate[-1] <= bicarbonate[12] + 0.1 < 40
