"""What comes in and goes out."""

import pytest

from app.chemistry.composition import Composition
from app.physiology.course.body import subject_of
from app.physiology.course.flow import lose, pass_excess, pour
from app.physiology.course.loads import Load, Loss
from app.physiology.course.parameters import drawn
from app.physiology.course.state import begin

SUBJECT = subject_of(weight_kg=70, age_years=50, sex="male", height_cm=178, results={})
SALINE = Composition(sodium_mmol_l=154, chloride_mmol_l=154)


def test_a_litre_brings_its_salt() -> None:
    state, start = begin(SUBJECT, drawn(2))
    before = state.sodium + state.potassium, state.water.copy()
    pour(state, start, [Load(SALINE, 1.0, 0, 60)], 0, 60)
    assert state.sodium + state.potassium - before[0] == pytest.approx(154)
    assert state.water - before[1] == pytest.approx(1)


def test_gastric_juice_takes_more_chloride_than_sodium() -> None:
    state, _ = begin(SUBJECT, drawn(2))
    before = state.sodium.copy(), state.chloride.copy()
    lose(state, [Loss("gastric", 100)], 60)
    assert before[0] - state.sodium == pytest.approx(6)
    assert before[1] - state.chloride == pytest.approx(13)


def test_nothing_is_passed_while_nothing_is_above_the_start() -> None:
    state, start = begin(SUBJECT, drawn(2))
    before = state.water.copy()
    pass_excess(state, start, drawn(2), 60)
    assert state.water == pytest.approx(before)
