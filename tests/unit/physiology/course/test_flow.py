"""What comes in and goes out."""

import numpy as np
import pytest

from app.chemistry.composition import Composition
from app.physiology.course.body import subject_of
from app.physiology.course.flow import lose, pour, take
from app.physiology.course.loads import Load, Loss, Salt
from app.physiology.course.parameters import drawn
from app.physiology.course.state import begin, strong

SUBJECT = subject_of(weight_kg=70, age_years=50, sex="male", height_cm=178, results={})
SALINE = Composition(sodium_mmol_l=154, chloride_mmol_l=154)


def test_a_litre_brings_its_salt() -> None:
    state, start = begin(SUBJECT, drawn(2))
    before = state.sodium + state.potassium, state.water.copy()
    pour(state, start, [Load(SALINE, 1.0, 0, 60)], 0, 60)
    assert state.sodium + state.potassium - before[0] == pytest.approx(154)
    assert state.water - before[1] == pytest.approx(1)


def test_gastric_juice_takes_more_chloride_than_sodium() -> None:
    state, start = begin(SUBJECT, drawn(2))
    before = state.sodium.copy(), state.chloride.copy()
    lose(state, start, [Loss("gastric", 100)], 60)
    assert before[0] - state.sodium == pytest.approx(6)
    assert before[1] - state.chloride == pytest.approx(13)


def test_urine_takes_the_salt_that_was_measured_in_it() -> None:
    state, start = begin(SUBJECT, drawn(2))
    before = state.sodium.copy(), state.potassium.copy(), state.chloride.copy()
    lose(state, start, [Loss("urine", 100, sodium_mmol_l=30, potassium_mmol_l=10)], 60)
    assert before[0] - state.sodium == pytest.approx(3)
    assert before[1] - state.potassium == pytest.approx(1)
    assert before[2] - state.chloride == pytest.approx(3)


def test_urine_of_usual_make_leaves_strong_ions_about_as_they_stand() -> None:
    state, start = begin(SUBJECT, drawn(2))
    before = strong(state)
    lose(state, start, [Loss("urine", 1000)], 60)
    assert strong(state) == pytest.approx(before, abs=1)


def test_blood_takes_all_that_plasma_holds_and_red_cells() -> None:
    state, start = begin(SUBJECT, drawn(2))
    state.mannitol = state.solute = state.sodium / 10
    before = state.red_cells.copy(), state.plasma.copy(), state.sodium / state.ecf
    lose(state, start, [Loss("blood", 150)], 60)
    cells, plasma = before[0] - state.red_cells, before[1] - state.plasma
    assert cells + plasma == pytest.approx(0.15)
    assert state.sodium / state.ecf == pytest.approx(before[2])
    assert state.mannitol == pytest.approx(state.sodium / 10)


def test_who_has_next_to_nothing_left_loses_no_more() -> None:
    state, start = begin(SUBJECT, drawn(2))
    state.ecf = np.array([0.39, 0.5]) * start.ecf
    before = state.water.copy()
    take(state, start, Salt(0, 0, 0), np.array([0.1, 0.1]))
    assert before - state.water == pytest.approx([0.0, 0.1])
