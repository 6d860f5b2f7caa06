"""What runs in."""

import pytest

from app.chemistry.composition import Composition
from app.physiology.course.loads import (
    LOST,
    Load,
    Loss,
    Salt,
    chloride_of,
    losses_between,
    potassium_mmol_h,
)


def test_a_load_runs_evenly_within_its_time() -> None:
    load = Load(Composition(), 1.0, 30, 60)
    assert load.litres_between(0, 30) == 0
    assert load.litres_between(30, 60) == pytest.approx(0.5)
    assert load.litres_between(0, 500) == pytest.approx(1.0)


# 0.123 x 7.4 - 0.631 = 0.28 mEq/g of albumin (Figge 1992).
@pytest.mark.parametrize(
    ("fluid", "chloride"),
    [
        (Composition(sodium_mmol_l=145, chloride_mmol_l=None), 145),
        (Composition(sodium_mmol_l=145, chloride_mmol_l=None, albumin_g_l=50), 131),
        (Composition(sodium_mmol_l=100, chloride_mmol_l=None, albumin_g_l=200), 44.2),
        (Composition(sodium_mmol_l=48, chloride_mmol_l=None, albumin_g_l=200), 0),
        (Composition(sodium_mmol_l=140, chloride_mmol_l=None, albumin_g_l=40,
                     colloid_charge_meq_l=-12), 128),
        (Composition(sodium_mmol_l=100, phosphate_mmol_l=50, chloride_mmol_l=None), 10),
        (Composition(sodium_mmol_l=154, chloride_mmol_l=120, albumin_g_l=50), 120),
    ],
)  # fmt: skip
def test_a_chloride_the_label_does_not_give_balances_the_charges(
    fluid: Composition, chloride: float
) -> None:
    assert chloride_of(fluid) == pytest.approx(chloride, abs=0.1)


def test_insulin_is_given_as_evenly_as_its_volume() -> None:
    load = Load(Composition(), 0.0, 30, 60, insulin_units=6)
    assert load.units_between(0, 60) == pytest.approx(3)
    assert load.litres_between(0, 60) == 0


@pytest.mark.parametrize(
    ("loss", "salt"),
    [
        (Loss("urine", 1), LOST["urine"]),
        (Loss("urine", 1, sodium_mmol_l=10), Salt(10, 40, 37.5)),
        (Loss("urine", 1, sodium_mmol_l=0, potassium_mmol_l=0), Salt(0, 0, 0)),
        (Loss("gastric", 1, sodium_mmol_l=20), Salt(20, 10, 130)),
        (Loss("gastric", 1, sodium_mmol_l=140, potassium_mmol_l=5), Salt(140, 5, 145)),
        (Loss("insensible", 1, sodium_mmol_l=45), Salt(45, 0, 45)),
    ],
)
def test_what_a_loss_takes_along_balances_its_charges(loss: Loss, salt: Salt) -> None:
    assert loss.salt == salt


def test_potassium_an_hour_is_that_of_all_that_runs_together() -> None:
    strong, weak = Composition(potassium_mmol_l=200), Composition(potassium_mmol_l=5)
    first, second = Load(strong, 0.1, 0, 60), Load(strong, 0.1, 30, 60)
    assert potassium_mmol_h((first,)) == pytest.approx(20)
    assert potassium_mmol_h((first, second)) == pytest.approx(40)
    assert potassium_mmol_h((first, Load(strong, 0.1, 60, 60))) == pytest.approx(20)
    assert potassium_mmol_h((Load(weak, 3, 0, 10),)) == 0 == potassium_mmol_h(())


def test_a_loss_runs_within_its_time_and_else_all_the_time() -> None:
    bleed, always = Loss("blood", 600, starts_min=10, duration_min=20), Loss("urine", 60)
    assert bleed.litres_between(0, 60) == pytest.approx(0.2)
    assert bleed.litres_between(0, 20) == pytest.approx(0.1)
    assert always.litres_between(30, 90) == pytest.approx(0.06)
    assert losses_between((bleed, always), 40, 60) == (always,)
    begun, other = losses_between((bleed, always), 0, 20)
    assert begun.ml_h == pytest.approx(300) and other is always
