"""What cells give and take."""

import pytest

from app.chemistry.composition import Composition
from app.physiology.course.body import subject_of
from app.physiology.course.course import course_of
from app.physiology.course.loads import Load
from app.physiology.course.parameters import drawn
from app.physiology.course.state import begin
from app.physiology.course.within.cells import share_water, trade_with_cells

PEOPLE = drawn(3)
SUBJECT = subject_of(weight_kg=70, age_years=50, sex="male", height_cm=178, results={})
STRONG = Composition(sodium_mmol_l=513, chloride_mmol_l=513)


def test_water_comes_out_of_cells_towards_salt() -> None:
    state, start = begin(SUBJECT, PEOPLE)
    state.sodium = state.sodium + 300
    share_water(state, start, PEOPLE, 30)
    assert (state.ecf > start.ecf + 0.5).all()
    assert state.water == pytest.approx(SUBJECT.water_l)


def test_cells_take_potassium_and_base_that_is_above_the_start() -> None:
    state, start = begin(SUBJECT, PEOPLE)
    state.potassium = state.potassium + 20
    state.rest = state.rest - 100
    before = state.potassium.copy(), state.rest.copy()
    trade_with_cells(state, start, PEOPLE, 30)
    assert (state.potassium < before[0] - 5).all() and (state.cell_potassium > 5).all()
    assert (state.rest > before[1] + 5).all()


def test_what_strong_salt_draws_out_of_cells_is_gone_again_in_hours() -> None:
    low = subject_of(
        weight_kg=58, age_years=60, sex="female", height_cm=None,
        results={"sodium": 112, "potassium": 3.0},
    )  # fmt: skip
    course = course_of(low, [Load(STRONG, 0.3, 0, 60)], horizon_min=1440, step_min=60, samples=2)
    potassium = course.series["potassium_mmol_l"].mid
    assert max(potassium) > 3.1
    assert potassium[-1] < 3.1
