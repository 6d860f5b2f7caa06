"""What plasma keeps of what comes and goes."""

import pytest

from app.chemistry.composition import Composition
from app.physiology.course.body import Subject, subject_of
from app.physiology.course.course import Course, course_of
from app.physiology.course.loads import Load, Loss

SALINE = Composition(sodium_mmol_l=154, chloride_mmol_l=154)
LACTATED = Composition(
    sodium_mmol_l=130, potassium_mmol_l=4, calcium_mmol_l=1.35, chloride_mmol_l=109,
    lactate_mmol_l=28,
)  # fmt: skip
ALBUMIN = Composition(sodium_mmol_l=145, chloride_mmol_l=131, albumin_g_l=50)
PLASMA = "plasma_volume_ml"
KEPT = (Loss("urine", 0.0),)


def person(**results: float) -> Subject:
    return subject_of(weight_kg=70, age_years=40, sex="male", height_cm=None, results=results)


def run(*loads: Load, losses: tuple[Loss, ...] = (), hours: float = 4, **results: float) -> Course:
    return course_of(
        person(**results), loads, losses, horizon_min=hours * 60, step_min=10, samples=2
    )


def plasma(course: Course, minutes: float) -> float:
    """Change, mL."""
    line = course.series[PLASMA].mid
    return line[course.times_min.index(minutes)] - line[0]


def blood(course: Course, minutes: float) -> float:
    """Blood volume at a time as a share of the start."""
    at = course.times_min.index(minutes)
    volumes = [
        course.series[PLASMA].mid[i] / (1 - course.series["haematocrit"].mid[i] / 100)
        for i in (0, at)
    ]
    return volumes[1] / volumes[0]


def test_a_fifth_to_a_quarter_of_a_litre_kept_stays_in_plasma_after_two_hours() -> None:
    course = run(Load(SALINE, 1.0, 0, 30), losses=KEPT)
    assert plasma(course, 30) > 330
    assert 150 < plasma(course, 120) < 270
    assert plasma(course, 240) == pytest.approx(plasma(course, 180), abs=30)


def test_three_in_a_hundred_of_the_weight_lost_take_a_tenth_of_plasma() -> None:
    losses = (Loss("urine", 60), Loss("insensible", 30))
    lost = plasma(run(losses=losses, hours=24), 1440) / 2744
    assert -0.12 < lost < -0.06


def test_a_bleed_is_refilled_by_100_to_250_ml_in_the_first_hour() -> None:
    course = run(losses=(Loss("blood", 1500),))
    bled_l = 1.5
    at = course.times_min.index(60)
    red, start = (course.series["haematocrit"].mid[i] / 100 for i in (at, 0))
    plasma_bled = bled_l * 1000 * (1 - (red + start) / 2)
    assert 100 < plasma(course, 60) + plasma_bled < 260


def test_saline_for_blood_one_to_one_leaves_blood_a_seventh_short() -> None:
    course = run(Load(SALINE, 1.5, 0, 60), losses=(Loss("blood", 1500),))
    assert 0.80 < blood(course, 60) < 0.90


def test_three_litres_for_one_of_blood_do_not_fill_it_beyond_the_start_by_much() -> None:
    course = run(Load(LACTATED, 3.43, 0, 60), losses=(Loss("blood", 1097),), hours=1)
    assert blood(course, 60) < 1.05


def test_albumin_for_blood_as_much_leaves_blood_about_as_it_was() -> None:
    course = run(Load(ALBUMIN, 1.333, 0, 40), losses=(Loss("blood", 1725),), hours=2 / 3)
    assert blood(course, 40) == pytest.approx(1.0, abs=0.06)


def test_albumin_given_holds_water_until_it_has_escaped() -> None:
    course = run(Load(ALBUMIN, 0.5, 0, 30), losses=KEPT, hours=24)
    assert plasma(course, 60) > 300
    assert plasma(course, 1440) < 0.6 * plasma(course, 60)


def test_with_little_albumin_less_of_saline_stays() -> None:
    little, usual = (
        plasma(run(Load(SALINE, 1.0, 0, 30), losses=KEPT, albumin=albumin), 60)
        for albumin in (15, 42)
    )
    assert little < 0.85 * usual
