"""Sodium after losses against Nguyen and Kurtz (Clin Exp Nephrol 2003;7:125; from memory), which
counts sodium, potassium and water in and out: a dilute urine raises sodium, a salty one lowers it.
"""

import pytest

from app.chemistry.composition import Composition
from app.physiology.course.body import subject_of
from app.physiology.course.course import course_of
from app.physiology.course.loads import Load, Loss
from app.physiology.sodium import sodium_after_balance_mmol_l

HOURS = 12.0
MAN = subject_of(weight_kg=70, age_years=50, sex="male", height_cm=175, results={"sodium": 120.0})


def by_model(loss: Loss, loads: list[Load]) -> float:
    sodium = course_of(
        MAN, loads, [loss], horizon_min=HOURS * 60, step_min=60, samples=1
    ).series["sodium_mmol_l"].mid  # fmt: skip
    return sodium[-1] - sodium[0]


def by_formula(loss: Loss, loads: list[Load]) -> float:
    lost_l = loss.ml_h / 1000 * HOURS
    given_l = sum(load.volume_l for load in loads)
    salt = sum(load.composition.cation_salt_mmol_l * load.volume_l for load in loads)
    after = sodium_after_balance_mmol_l(
        sodium_mmol_l=MAN.sodium_mmol_l,
        body_water_l=MAN.water_l,
        salt_gain_mmol=salt - lost_l * (loss.salt.sodium + loss.salt.potassium),
        water_gain_l=given_l - lost_l,
    )
    return after - MAN.sodium_mmol_l


SALINE = Load(Composition(sodium_mmol_l=154, chloride_mmol_l=154), 1.0, 0, 240)
STRONG = Load(Composition(sodium_mmol_l=513, chloride_mmol_l=513), 0.25, 0, 60)
URINES = [(10, 5), (30, 20), (60, 60), (100, 60), (140, 60)]


@pytest.mark.parametrize(("sodium", "potassium"), URINES)
@pytest.mark.parametrize("loads", [[], [SALINE], [STRONG]])
@pytest.mark.parametrize("ml_h", [50, 150])
def test_sodium_moves_to_the_same_side_and_as_far(
    sodium: float, potassium: float, loads: list[Load], ml_h: float
) -> None:
    loss = Loss("urine", ml_h, sodium_mmol_l=sodium, potassium_mmol_l=potassium)
    ours, theirs = by_model(loss, loads), by_formula(loss, loads)
    assert ours == pytest.approx(theirs, abs=0.5 + 0.15 * abs(theirs))
    if abs(theirs) > 0.7:
        assert ours * theirs > 0


def test_the_more_dilute_the_urine_the_more_sodium_rises() -> None:
    changes = [by_model(Loss("urine", 150, na, k), []) for na, k in URINES]
    assert changes == sorted(changes, reverse=True)
    assert changes[0] > 2 and changes[-1] < -0.5


def test_sweat_and_breath_raise_sodium_and_gastric_juice_hardly_moves_it() -> None:
    assert by_model(Loss("insensible", 80), []) > 1.5
    assert abs(by_model(Loss("gastric", 80), [])) < 1.5
