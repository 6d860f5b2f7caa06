"""What kidneys pass of their own."""

import numpy as np
import pytest

from app.chemistry.composition import Composition
from app.physiology.course.body import Subject, subject_of
from app.physiology.course.course import Course, course_of
from app.physiology.course.kidneys.salt import pass_excess
from app.physiology.course.kidneys.urine import pass_urine
from app.physiology.course.loads import OSMOTIC, Load, Loss
from app.physiology.course.parameters import PARAMETERS, drawn
from app.physiology.course.state import Start, State, begin

PEOPLE = drawn(2)
MANNITOL = Composition(mannitol_g_l=200)
SUGAR = Composition(glucose_g_l=100)
SALINE = Composition(sodium_mmol_l=154, chloride_mmol_l=154)
VOLUMES = ("plasma_volume_ml", "interstitial_volume_ml", "intracellular_volume_ml")


def person(*conditions: str, **results: float) -> Subject:
    return subject_of(
        weight_kg=70, age_years=30, sex="male", height_cm=178, results=results,
        conditions=frozenset(conditions),
    )  # fmt: skip


def with_mannitol(*conditions: str) -> tuple[State, Start]:
    state, start = begin(person(*conditions), PEOPLE)
    state.mannitol = state.solute = np.full(2, 200.0)
    return state, start


def run(subject: Subject, load: Load, losses: tuple[Loss, ...] = (), hours: float = 8) -> Course:
    return course_of(subject, [load], losses, horizon_min=hours * 60, step_min=60, samples=20)


def total_ml(course: Course, at: int) -> float:
    return sum(course.series[name].mid[at] for name in VOLUMES)


def test_nothing_is_passed_while_nothing_is_above_the_start() -> None:
    state, start = begin(person(), PEOPLE)
    before = state.water.copy()
    pass_excess(state, start, PEOPLE, 60)
    pass_urine(state, start, PEOPLE, (), 60)
    assert state.water == pytest.approx(before)


def test_half_of_the_mannitol_is_passed_in_its_half_life() -> None:
    state, start = with_mannitol()
    pass_urine(state, start, PEOPLE, (), PARAMETERS["mannitol_min"].mid)
    assert state.mannitol[0] == pytest.approx(100)
    assert state.solute[0] == pytest.approx(100)


def test_mannitol_takes_water_and_a_little_salt_along() -> None:
    state, start = with_mannitol()
    water, sodium = state.water.copy(), state.sodium.copy()
    pass_urine(state, start, PEOPLE, (), 20)
    litres = water[0] - state.water[0]
    passed = 200 - state.mannitol[0]
    assert litres == pytest.approx(passed / PARAMETERS["osmotic_urine_mmol_l"].mid)
    assert sodium[0] - state.sodium[0] == pytest.approx(litres * OSMOTIC.sodium)


def test_without_urine_no_mannitol_goes() -> None:
    state, start = with_mannitol("anuria")
    pass_urine(state, start, PEOPLE, (), 100)
    assert state.mannitol == pytest.approx(200)
    told, start = with_mannitol()
    pass_urine(told, start, PEOPLE, (Loss("urine", 0.0),), 100)
    assert told.mannitol == pytest.approx(200)


def test_with_urine_given_mannitol_takes_no_water_besides() -> None:
    state, start = with_mannitol()
    water = state.water.copy()
    pass_urine(state, start, PEOPLE, (Loss("urine", 100.0),), 60)
    assert state.water == pytest.approx(water)
    # A litre holds 400 mmol at most.
    assert state.mannitol[0] == pytest.approx(160)


def test_failing_kidneys_keep_most_of_the_mannitol() -> None:
    well, start = with_mannitol()
    pass_urine(well, start, PEOPLE, (), 100)
    ill, start = with_mannitol("acute_kidney_injury")
    pass_urine(ill, start, PEOPLE, (), 100)
    assert ill.mannitol[0] > 180 > well.mannitol[0]


def test_glucose_above_the_threshold_is_spilt_with_its_water() -> None:
    ill = person("diabetes")
    load = Load(SUGAR, 1.0, 0, 120)
    spilt, kept = run(ill, load), run(ill, load, (Loss("urine", 0.0),))
    assert total_ml(spilt, -1) < total_ml(kept, -1) - 200
    assert max(spilt.series["glucose_mmol_l"].mid) < max(kept.series["glucose_mmol_l"].mid)


def test_glucose_below_the_threshold_stays() -> None:
    state, start = begin(person(glucose=9), PEOPLE)
    glucose = state.glucose.copy()
    pass_urine(state, start, PEOPLE, (), 60)
    assert state.glucose == pytest.approx(glucose)


def test_a_glucose_that_was_high_is_taken_as_steady() -> None:
    course = run(person("diabetes", glucose=30), Load(Composition(), 0.0, 0, 60))
    assert course.series["glucose_mmol_l"].mid[-1] == pytest.approx(30)


def test_of_excess_salt_failing_kidneys_pass_a_share_and_none_without_urine() -> None:
    load = Load(SALINE, 2.0, 0, 60)
    passed = {
        ill: total_ml(course, 0) + 2000 - total_ml(course, -1)
        for ill in ("", "acute_kidney_injury", "anuria")
        for course in (run(person(*filter(None, [ill])), load),)
    }
    assert passed["anuria"] == pytest.approx(0, abs=1e-6)
    assert 0 < passed["acute_kidney_injury"] < 0.3 * passed[""]


def test_no_chloride_is_made_where_it_stands_low() -> None:
    state, start = begin(person(), PEOPLE)
    state.chloride = state.chloride / 2
    state.ecf = state.ecf + 2
    before = state.chloride.copy()
    pass_excess(state, start, PEOPLE, 60)
    assert (state.chloride <= before).all()
