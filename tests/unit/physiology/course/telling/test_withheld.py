"""What is not drawn, from when, and why."""

import pytest

from app.chemistry.composition import Composition
from app.physiology.course.body import Subject, subject_of
from app.physiology.course.course import course_of
from app.physiology.course.loads import Load, Loss
from app.physiology.course.telling.withheld import GAS, KETONES, NOBODY, Withheld

SALINE = Composition(sodium_mmol_l=154, chloride_mmol_l=154)


def person(*conditions: str, **results: float) -> Subject:
    return subject_of(
        weight_kg=70, age_years=50, sex="male", height_cm=178, results=results,
        conditions=frozenset(conditions),
    )  # fmt: skip


def withheld(
    subject: Subject, *loads: Load, losses: tuple[Loss, ...] = (), hours: float = 4
) -> dict[str, Withheld]:
    course = course_of(
        subject, loads, losses, horizon_min=hours * 60, step_min=10, samples=10
    )  # fmt: skip
    found = {one.series: one for one in course.withheld}
    assert len(found) == len(course.withheld)
    return found


def test_a_litre_of_saline_leaves_everything_drawn() -> None:
    assert not withheld(person(), Load(SALINE, 1.0, 0, 60))


def test_in_ketoacidosis_neither_ph_nor_bicarbonate_is_drawn() -> None:
    ill = person("diabetic_ketoacidosis", glucose=28, bicarbonate=9)
    found = withheld(ill, Load(SALINE, 1.0, 0, 60))
    assert set(found) == set(GAS)
    assert {(one.from_min, one.why) for one in found.values()} == {(0.0, KETONES)}


def test_a_low_glucose_is_drawn_for_an_hour() -> None:
    found = withheld(person(glucose=1.8), Load(Composition(glucose_g_l=500), 0.05, 0, 5))
    assert found["glucose_mmol_l"].from_min == 60


def test_potassium_that_stops_the_heart_is_drawn_no_further() -> None:
    pushed = Load(Composition(potassium_mmol_l=2000, chloride_mmol_l=2000), 0.15, 60, 20)
    found = withheld(person("anuria"), pushed)["potassium_mmol_l"]
    assert 60 < found.from_min <= 80 and found.why == NOBODY


def test_blood_that_has_run_out_is_drawn_no_further() -> None:
    found = withheld(person(), Load(SALINE, 3.0, 0, 240), losses=(Loss("blood", 2400),))
    assert 0 < found["haematocrit"].from_min < 240


@pytest.mark.parametrize(("strength", "past"), [(3000, True), (300, False)])
def test_sodium_past_180_is_drawn_no_further(strength: float, past: bool) -> None:
    strong = Composition(sodium_mmol_l=strength, chloride_mmol_l=strength)
    assert ("sodium_mmol_l" in withheld(person(), Load(strong, 1.0, 0, 60))) is past


def test_a_start_past_a_limit_is_drawn_while_it_does_not_get_worse() -> None:
    found = withheld(person("anuria", potassium=8.6), Load(SALINE, 0.1, 0, 60))
    assert "potassium_mmol_l" not in found
