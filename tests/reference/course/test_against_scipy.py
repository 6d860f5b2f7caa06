"""The stepped model against scipy's solver on the same equations, written apart."""

import pytest

from app.chemistry.composition import Composition
from app.physiology.course.body import Subject, subject_of
from app.physiology.course.course import course_of
from app.physiology.course.loads import Load, Loss
from tests.reference.course.equations import Person

ADULT_KG = 70.0
NONE_PASSED = (Loss("urine", 0.0),)


def person(*conditions: str, **results: float) -> Subject:
    return subject_of(
        weight_kg=70, age_years=50, sex="male", height_cm=178, results=results,
        conditions=frozenset(conditions),
    )  # fmt: skip


SUBJECT = person(potassium=3.4)
FLUIDS = {
    "saline": Composition(sodium_mmol_l=154, chloride_mmol_l=154),
    "balanced": Composition(
        sodium_mmol_l=140, potassium_mmol_l=5, magnesium_mmol_l=1.5, chloride_mmol_l=98,
        acetate_mmol_l=27, gluconate_mmol_l=23,
    ),
    "lactated": Composition(
        sodium_mmol_l=130, potassium_mmol_l=4, calcium_mmol_l=1.35, chloride_mmol_l=109,
        lactate_mmol_l=28,
    ),
    "strong": Composition(sodium_mmol_l=513, chloride_mmol_l=513),
    "sugar": Composition(glucose_g_l=50),
    "albumin": Composition(sodium_mmol_l=130, chloride_mmol_l=100, albumin_g_l=200),
    "potassium": Composition(sodium_mmol_l=154, potassium_mmol_l=40, chloride_mmol_l=194),
    "mannitol": Composition(mannitol_g_l=200),
    "strong sugar": Composition(glucose_g_l=200),
}  # fmt: skip
SMALL = ("strong", "albumin", "mannitol", "strong sugar")
# Split steps of a minute or two against a solver of its own choice of steps.
WITHIN = {
    "sodium_mmol_l": 0.15, "potassium_mmol_l": 0.05, "chloride_mmol_l": 0.15, "lactate_mmol_l": 0.1,
    "glucose_mmol_l": 0.4, "albumin_g_l": 0.5, "plasma_volume_ml": 40, "interstitial_volume_ml": 60,
    "intracellular_volume_ml": 40,
}  # fmt: skip


def agree(subject: Subject, loads: list[Load], losses: tuple[Loss, ...], minutes: float) -> None:
    stepped = course_of(subject, loads, losses, horizon_min=minutes, step_min=minutes, samples=1)
    for name, value in Person(subject, loads, losses).solved(minutes).items():
        share = subject.weight_kg / ADULT_KG if name.endswith("_ml") else 1.0
        within = WITHIN[name] * share
        assert stepped.series[name].mid[-1] == pytest.approx(value, abs=within), name


@pytest.mark.parametrize("fluid", FLUIDS)
@pytest.mark.parametrize("minutes", [60, 120, 240])
@pytest.mark.parametrize("losses", [(), NONE_PASSED])
def test_the_stepped_course_is_the_solved_one(
    fluid: str, minutes: float, losses: tuple[Loss, ...]
) -> None:
    litres = 0.2 if fluid in SMALL else 1.0
    agree(SUBJECT, [Load(FLUIDS[fluid], litres, 0, 60)], losses, minutes)


@pytest.mark.parametrize("minutes", [30, 60, 240, 480])
@pytest.mark.parametrize(
    ("units", "over_min", "conditions"),
    [(10, 5, ()), (6, 60, ()), (36, 360, ("diabetes",)), (10, 5, ("anuria",))],
)
def test_insulin_acts_as_its_equations_say(
    units: float, over_min: float, conditions: tuple[str, ...], minutes: float
) -> None:
    sugar = Load(FLUIDS["strong sugar"], 0.125, 0, max(over_min, 20), 0.0)
    insulin = Load(Composition(), 0.0, 0, over_min, insulin_units=units)
    agree(person(*conditions, potassium=5.4, glucose=14), [sugar, insulin], (), minutes)


@pytest.mark.parametrize("minutes", [240, 1440])
@pytest.mark.parametrize(
    "loss",
    [
        Loss("urine", 150, sodium_mmol_l=20, potassium_mmol_l=15),
        Loss("urine", 100),
        Loss("gastric", 60),
        Loss("insensible", 40),
    ],
)
def test_losses_leave_with_their_salt(loss: Loss, minutes: float) -> None:
    load = Load(FLUIDS["lactated"], 2.0, 0, 600)
    agree(SUBJECT, [load], (loss,), minutes)


@pytest.mark.parametrize("conditions", [("anuria",), ("acute_kidney_injury",)])
@pytest.mark.parametrize("fluid", ["potassium", "mannitol", "sugar"])
def test_failing_kidneys_pass_what_their_share_says(
    fluid: str, conditions: tuple[str, ...]
) -> None:
    litres = 0.2 if fluid in SMALL else 1.0
    agree(person(*conditions), [Load(FLUIDS[fluid], litres, 0, 60)], (), 360)


def test_a_newborn_follows_the_same_equations() -> None:
    baby = subject_of(weight_kg=3.5, age_years=0.01, sex=None, height_cm=None, results={})
    load = Load(FLUIDS["saline"], 0.035, 0, 30)
    agree(baby, [load], (), 240)


SICK = {
    "dry and salty": {"sodium": 165.0},
    "thin": {"sodium": 116.0},
    "alkalotic": {
        "sodium": 136.0, "chloride": 78.0, "bicarbonate": 44.0, "potassium": 2.6, "pco2": 50.0,
    },
    "acidotic": {"chloride": 115.0, "bicarbonate": 14.0, "pco2": 28.0},
    "high in potassium": {"potassium": 7.2},
    "low in albumin": {"albumin": 15.0},
}  # fmt: skip


@pytest.mark.parametrize("minutes", [240, 1440])
@pytest.mark.parametrize("fluid", ["saline", "sugar", "lactated", "strong", "bicarbonate"])
@pytest.mark.parametrize("ill", SICK)
def test_a_sick_start_is_left_as_the_equations_say(ill: str, fluid: str, minutes: float) -> None:
    base = Composition(sodium_mmol_l=1000, bicarbonate_mmol_l=1000)
    litres = 0.2 if fluid in (*SMALL, "bicarbonate") else 1.5
    load = Load({**FLUIDS, "bicarbonate": base}[fluid], litres, 0, 180)
    agree(person(**SICK[ill]), [load], (), minutes)
