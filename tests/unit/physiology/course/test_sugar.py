"""Glucose, and insulin that is given."""

import numpy as np
import pytest

from app.chemistry.composition import Composition
from app.physiology.course.body import Subject, subject_of
from app.physiology.course.course import course_of
from app.physiology.course.loads import Load
from app.physiology.course.parameters import drawn
from app.physiology.course.state import begin
from app.physiology.course.sugar import run_insulin, use_glucose

PEOPLE = drawn(2)
BOLUS = Load(Composition(), 0.0, 0, 2, insulin_units=10)


def person(*conditions: str, **results: float) -> Subject:
    return subject_of(
        weight_kg=70, age_years=50, sex="male", height_cm=178, results=results,
        conditions=frozenset(conditions),
    )  # fmt: skip


def test_without_insulin_nothing_acts() -> None:
    state, start = begin(person(), PEOPLE)
    run_insulin(state, start, PEOPLE, [Load(Composition(), 1.0, 0, 60)], (0, 60))
    assert not state.insulin.any() and not state.acts.any()


def test_insulin_is_gone_from_plasma_within_the_hour_and_acts_for_hours() -> None:
    state, start = begin(person(), PEOPLE)
    acts = []
    for at in range(0, 360, 15):
        run_insulin(state, start, PEOPLE, [BOLUS], (at, at + 15))
        acts.append(state.acts[0])
    assert max(acts) in acts[1:4]
    assert acts[7] < 0.7 * max(acts)
    assert acts[15] < 0.25 * max(acts) and acts[-1] < 0.1 * max(acts)
    assert state.insulin[0] < 1e-9


def test_the_length_of_a_step_hardly_matters() -> None:
    fine, start = begin(person(), PEOPLE)
    for at in range(60):
        run_insulin(fine, start, PEOPLE, [BOLUS], (at, at + 1))
    coarse, start = begin(person(), PEOPLE)
    for at in range(0, 60, 15):
        run_insulin(coarse, start, PEOPLE, [BOLUS], (at, at + 15))
    assert coarse.acts == pytest.approx(fine.acts, abs=0.03)


def test_more_insulin_acts_more_and_never_fully() -> None:
    acting = []
    for units in (1, 5, 10, 50):
        state, start = begin(person(), PEOPLE)
        load = Load(Composition(), 0.0, 0, 60, insulin_units=units)
        run_insulin(state, start, PEOPLE, [load], (0, 60))
        acting.append(state.acts[0])
    assert acting == sorted(acting) and acting[-1] < 1
    assert acting[-1] - acting[-2] < acting[1] - acting[0]


def test_glucose_above_the_start_is_used_more_slowly_in_diabetes() -> None:
    left = []
    for ill in ((), ("diabetes",)):
        state, start = begin(person(*ill), PEOPLE)
        state.glucose = state.glucose * 3
        use_glucose(state, start, PEOPLE, 20)
        left.append(state.glucose[0] / state.ecf[0])
    assert 5.3 < left[0] < left[1] < 15.9


def test_a_low_glucose_is_defended_but_not_at_once() -> None:
    state, start = begin(person(), PEOPLE)
    state.glucose = 2.0 * state.ecf
    use_glucose(state, start, PEOPLE, 15)
    assert (state.glucose / state.ecf > 2.0).all() and (state.glucose / state.ecf < 4.5).all()


def test_insulin_lowers_a_high_glucose_and_sugar_given_with_it_keeps_it_up() -> None:
    ill = person("diabetic_ketoacidosis", glucose=30)
    drip = Load(Composition(), 0.0, 0, 240, insulin_units=28)
    sugar = Load(Composition(glucose_g_l=100), 0.5, 0, 240)
    alone, both = (
        course_of(ill, loads, horizon_min=240, step_min=60, samples=1).series["glucose_mmol_l"].mid
        for loads in ([drip], [drip, sugar])
    )
    # 0.1 units/kg/h: 3 to 5 mmol/L an hour is aimed at (guidelines, from memory).
    assert 2 < alone[1] - alone[2] < 5
    assert both[-1] > alone[-1]
    assert (np.diff(alone) < 0).all()
