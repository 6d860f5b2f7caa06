"""What must hold of every prediction, whoever it is of."""

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from app.chemistry.composition import Composition
from app.physiology.course.body import Subject, subject_of
from app.physiology.course.course import Course, course_of
from app.physiology.course.loads import Load, Loss
from app.physiology.course.parameters import PARAMETERS

SALINE = Composition(sodium_mmol_l=154, chloride_mmol_l=154)
LACTATED = Composition(
    sodium_mmol_l=130, potassium_mmol_l=4, calcium_mmol_l=1.35, chloride_mmol_l=109,
    lactate_mmol_l=28,
)  # fmt: skip
POTASSIUM = Composition(sodium_mmol_l=154, potassium_mmol_l=200, chloride_mmol_l=354)
STRONG = Composition(sodium_mmol_l=513, chloride_mmol_l=513)
SUGAR = Composition(glucose_g_l=50)
PLASMA, SODIUM = "plasma_volume_ml", "sodium_mmol_l"
VOLUMES = (PLASMA, "interstitial_volume_ml", "intracellular_volume_ml")


def person(weight_kg: float = 70, **results: float) -> Subject:
    return subject_of(weight_kg=weight_kg, age_years=50, sex="male", height_cm=178, results=results)


def run(*loads: Load, losses: tuple[Loss, ...] = (), hours: float = 4, **kind: object) -> Course:
    subject = kind.pop("subject", person())
    assert isinstance(subject, Subject)
    return course_of(
        subject, loads, losses, horizon_min=hours * 60, step_min=30, samples=40,
        responding_pco2=bool(kind.get("responding")),
    )  # fmt: skip


def last(course: Course, name: str) -> float:
    return course.series[name].mid[-1]


def change(course: Course, name: str) -> float:
    return last(course, name) - course.series[name].mid[0]


@pytest.mark.parametrize("hours", [1, 6, 24])
def test_nothing_given_and_nothing_lost_changes_nothing(hours: float) -> None:
    for name, band in run(hours=hours).series.items():
        assert band.mid[-1] == pytest.approx(band.mid[0], abs=1e-9), name
        assert band.low == pytest.approx(band.high), name


@pytest.mark.parametrize("fluid", [SALINE, LACTATED, SUGAR, STRONG])
def test_an_infusion_in_two_halves_does_what_the_whole_does(fluid: Composition) -> None:
    whole = run(Load(fluid, 1.0, 0, 120))
    halves = run(Load(fluid, 0.5, 0, 60), Load(fluid, 0.5, 60, 60))
    for name, band in whole.series.items():
        assert halves.series[name].mid == pytest.approx(band.mid, abs=1e-6), name


def test_water_is_neither_made_nor_lost() -> None:
    # Urine told as none: nothing is passed.
    course = run(Load(SALINE, 2.0, 0, 60), losses=(Loss("urine", 0.0),))
    total = [sum(course.series[v].mid[n] for v in VOLUMES) for n in (0, -1)]
    assert total[1] - total[0] == pytest.approx(2000, abs=1e-6)


def test_sodium_chloride_and_water_outside_cells_are_conserved() -> None:
    course = run(Load(SALINE, 2.0, 0, 60), losses=(Loss("urine", 0.0),))
    outside = [
        (course.series[PLASMA].mid[n] + course.series[VOLUMES[1]].mid[n]) / 1000 for n in (0, -1)
    ]
    chloride = course.series["chloride_mmol_l"].mid
    assert chloride[-1] * outside[1] - chloride[0] * outside[0] == pytest.approx(308, abs=1e-6)


@pytest.mark.parametrize("ion", ["sodium", "potassium", "chloride"])
def test_more_of_an_ion_never_lowers_it(ion: str) -> None:
    changes = []
    for extra in (0, 20, 40, 80):
        salt = Composition(
            sodium_mmol_l=120 + (extra if ion != "potassium" else 0),
            potassium_mmol_l=extra if ion == "potassium" else 0,
            chloride_mmol_l=120 + extra,
        )
        changes.append(change(run(Load(salt, 1.0, 0, 120)), f"{ion}_mmol_l"))
    assert changes == sorted(changes)


@pytest.mark.parametrize("weight", [0.6, 3, 20, 150, 400])
@pytest.mark.parametrize("fluid", [SALINE, STRONG, SUGAR])
def test_people_of_any_size_and_absurd_doses_stay_finite(weight: float, fluid: Composition) -> None:
    age = 0.01 if weight < 5 else 5 if weight < 40 else 50
    subject = subject_of(weight_kg=weight, age_years=age, sex="female", height_cm=None, results={})
    losses = tuple(Loss(kind, 50 * weight) for kind in ("gastric", "blood", "insensible"))
    for volume in (0.001, 0.3 * weight):
        course = run(Load(fluid, volume, 0, 60), losses=losses, hours=24, subject=subject)
        for band in course.series.values():
            assert np.isfinite([*band.mid, *band.low, *band.high]).all()


def test_every_band_holds_its_middle() -> None:
    for band in run(Load(LACTATED, 2.0, 0, 60)).series.values():
        for low, mid, high in zip(band.low, band.mid, band.high, strict=True):
            assert low <= mid <= high


def test_the_same_input_gives_the_same_output() -> None:
    load = Load(LACTATED, 1.0, 0, 60)
    assert run(load).series == run(load).series


def test_saline_raises_chloride_and_lowers_bicarbonate_and_balanced_fluid_does_less() -> None:
    saline, balanced = run(Load(SALINE, 2.0, 0, 60)), run(Load(LACTATED, 2.0, 0, 60))
    assert change(saline, "chloride_mmol_l") > 2 > change(balanced, "chloride_mmol_l")
    assert change(saline, "bicarbonate_mmol_l") < -1 < change(balanced, "bicarbonate_mmol_l")


def test_strong_salt_draws_water_from_cells_and_sugar_water_fills_them() -> None:
    assert change(run(Load(STRONG, 0.3, 0, 30)), VOLUMES[2]) < -300
    assert change(run(Load(SUGAR, 1.0, 0, 60), losses=(Loss("urine", 0.0),)), VOLUMES[2]) > 400


def test_albumin_stays_in_plasma_and_holds_water_there() -> None:
    albumin = Composition(sodium_mmol_l=130, chloride_mmol_l=100, albumin_g_l=200)
    course = run(Load(albumin, 0.2, 0, 30))
    assert 300 < change(course, PLASMA) < 700 and change(course, "haematocrit") < -2


def test_bleeding_takes_red_cells_with_it() -> None:
    course = run(losses=(Loss("blood", 250.0),))
    assert change(course, "haematocrit") < -1 and change(course, PLASMA) < 0


def test_a_failing_liver_keeps_lactate_longer() -> None:
    well = run(Load(LACTATED, 2.0, 0, 60), hours=1)
    ill = subject_of(
        weight_kg=70, age_years=50, sex="male", height_cm=178, results={},
        conditions=frozenset({"severe_liver_failure"}),
    )  # fmt: skip
    slow = run(Load(LACTATED, 2.0, 0, 60), hours=1, subject=ill)
    assert change(slow, "lactate_mmol_l") > change(well, "lactate_mmol_l")


def test_breathing_that_responds_softens_the_fall_of_ph() -> None:
    load = Load(SALINE, 3.0, 0, 60)
    assert change(run(load, responding=True), "ph") > change(run(load), "ph")


def test_plasma_and_interstitium_follow_the_equations_that_scipy_solves() -> None:
    # A small load, so that the leak is that of a plasma hardly filled, and nothing is passed.
    volume_ml, minutes = 20.0, 60.0
    course = course_of(
        person(), [Load(SALINE, volume_ml / 1000, 0, minutes)], [Loss("urine", 0.0)],
        horizon_min=180, step_min=10, samples=1,
    )  # fmt: skip
    out, back, far_in, far_back = (
        PARAMETERS[f"{name}_per_min"].mid for name in ("out", "back", "far_in", "far_back")
    )

    def flow(at: float, above: list[float]) -> list[float]:
        comes = volume_ml / minutes if at < minutes else 0.0
        leaves = out * above[0] - back * above[1]
        goes_on = far_in * above[1] - far_back * above[2]
        return [comes - leaves, leaves - goes_on, goes_on]

    solved = solve_ivp(flow, (0, 180), [0.0, 0.0, 0.0], t_eval=course.times_min, max_step=1.0)
    plasma = np.array(course.series[PLASMA].mid)
    assert plasma - plasma[0] == pytest.approx(solved.y[0], abs=0.4)


def test_the_times_are_those_asked_for_and_end_at_the_horizon() -> None:
    course = course_of(person(), [], horizon_min=100, step_min=30, samples=2)
    assert course.times_min == (0, 30, 60, 90, 100)


def test_a_fluid_without_potassium_hardly_thins_it() -> None:
    course = run(Load(SALINE, 2.0, 0, 60), hours=1)
    assert abs(change(course, "potassium_mmol_l")) < 0.15


def test_twenty_mmol_of_potassium_in_an_hour_raise_it_by_about_a_half() -> None:
    # Hamill 1991: 20 mmol raised potassium by 0.5 at the end of the hour.
    assert 0.35 < change(run(Load(POTASSIUM, 0.1, 0, 60), hours=1), "potassium_mmol_l") < 0.65


def test_with_failing_kidneys_potassium_stays_up_and_it_is_said() -> None:
    ill = subject_of(
        weight_kg=70, age_years=50, sex="male", height_cm=178, results={},
        conditions=frozenset({"acute_kidney_injury"}),
    )  # fmt: skip
    load = Load(POTASSIUM, 0.2, 0, 120)
    failing, well = run(load, hours=12, subject=ill), run(load, hours=12)
    assert change(failing, "potassium_mmol_l") > 1.5 * change(well, "potassium_mmol_l")
    assert "potassium may rise more" in failing.not_modelled[0]


def test_times_asked_for_besides_are_shown_in_their_place_and_change_nothing() -> None:
    load = Load(SALINE, 0.5, 0, 13)
    plain, more = (
        course_of(person(), [load], horizon_min=240, step_min=60, samples=2, also_min=also)
        for also in ((), (13, 30, 60, 999, 0))
    )
    assert more.times_min == (0, 13, 30, 60, 120, 180, 240)
    at_the_end = [course.series[PLASMA].mid[-1] for course in (plain, more)]
    assert at_the_end[0] == pytest.approx(at_the_end[1], rel=1e-3)
    assert more.series[PLASMA].mid[1] == max(more.series[PLASMA].mid)


def test_who_keeps_water_ends_with_a_lower_sodium_than_who_passes_it() -> None:
    load = Load(SUGAR, 2.0, 0, 600)
    kept, passed = (
        course_of(
            person(), [load], horizon_min=1440, step_min=60, samples=2, keeps_water=keeps
        ).series[SODIUM].mid[-1]
        for keeps in (True, False)
    )  # fmt: skip
    assert kept < passed - 3


def test_a_loss_that_ends_is_lost_for_so_long_and_no_longer() -> None:
    subject = subject_of(
        weight_kg=70, age_years=50, sex="male", height_cm=178, results={},
        conditions=frozenset({"anuria"}),
    )  # fmt: skip
    bleed = Loss("blood", 3000, starts_min=30, duration_min=10)
    course = course_of(subject, (), (bleed,), horizon_min=240, step_min=10)
    albumin = course.series["albumin_g_l"].mid
    outside = [
        plasma + between
        for plasma, between in zip(
            course.series["plasma_volume_ml"].mid, course.series["interstitial_volume_ml"].mid,
            strict=True,
        )
    ]  # fmt: skip
    assert albumin[3] == pytest.approx(albumin[0]) and albumin[-1] < albumin[3] - 0.5
    assert outside[3] == pytest.approx(outside[0])
    plasma_lost_ml = 500 * (1 - subject.haematocrit)
    assert outside[4] == pytest.approx(outside[0] - plasma_lost_ml, abs=15)
    assert outside[-1] == pytest.approx(outside[4], abs=15)
