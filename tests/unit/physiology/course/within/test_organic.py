"""Organic anions burnt."""

import pytest

from app.chemistry.composition import Composition
from app.physiology.course.body import subject_of
from app.physiology.course.course import course_of
from app.physiology.course.loads import ORGANIC, Load
from app.physiology.course.parameters import PARAMETERS, drawn
from app.physiology.course.state import begin
from app.physiology.course.within.organic import burn

PEOPLE = drawn(2)
SALINE = Composition(sodium_mmol_l=154, chloride_mmol_l=154)
LACTATED = Composition(
    sodium_mmol_l=130, potassium_mmol_l=4, calcium_mmol_l=1.35, chloride_mmol_l=109,
    lactate_mmol_l=28,
)  # fmt: skip


def lactate(fluid: Composition, start: float, *conditions: str) -> tuple[float, ...]:
    subject = subject_of(
        weight_kg=70, age_years=50, sex="male", height_cm=None,
        results={"lactate": start, "bicarbonate": 18}, conditions=frozenset(conditions),
    )  # fmt: skip
    course = course_of(subject, [Load(fluid, 2.0, 0, 60)], horizon_min=480, step_min=30, samples=2)
    return course.series["lactate_mmol_l"].mid


@pytest.mark.parametrize("start", [1.0, 8.0])
def test_what_saline_thins_is_soon_made_good(start: float) -> None:
    mid = lactate(SALINE, start)
    assert min(mid) > 0.93 * start
    assert mid[6] == pytest.approx(start, rel=0.01)


def test_a_failing_liver_never_brings_it_below_the_start() -> None:
    mid = lactate(LACTATED, 6.0, "severe_liver_failure")
    assert mid[2] > 6.8
    assert min(mid) >= 6.0 - 1e-9


def test_half_of_what_was_given_is_burnt_in_its_half_life_and_gluconate_in_part() -> None:
    subject = subject_of(weight_kg=70, age_years=50, sex="male", height_cm=None, results={})
    for name in ("acetate", "gluconate"):
        state, start = begin(subject, PEOPLE)
        row = ORGANIC.index(name)
        state.organic[row] = 40.0
        rest = state.rest.copy()
        burn(state, start, PEOPLE, PARAMETERS[f"{name}_min"].mid)
        assert state.organic[row][0] == pytest.approx(20)
        stays = 0.6 * 20 if name == "gluconate" else 0.0
        assert (state.rest - rest)[0] == pytest.approx(stays)
