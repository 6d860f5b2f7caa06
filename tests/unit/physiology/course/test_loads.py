"""What runs in."""

import pytest

from app.chemistry.composition import Composition
from app.physiology.course.loads import LOST, Load, Loss, Salt, chloride_of, potassium_mmol_h


def test_a_load_runs_evenly_within_its_time() -> None:
    load = Load(Composition(), 1.0, 30, 60)
    assert load.litres_between(0, 30) == 0
    assert load.litres_between(30, 60) == pytest.approx(0.5)
    assert load.litres_between(0, 500) == pytest.approx(1.0)


def test_a_chloride_the_label_does_not_give_balances_the_charges() -> None:
    albumin = Composition(sodium_mmol_l=145, chloride_mmol_l=None)
    assert chloride_of(albumin) == 145


def test_insulin_is_given_as_evenly_as_its_volume() -> None:
    load = Load(Composition(), 0.0, 30, 60, insulin_units=6)
    assert load.units_between(0, 60) == pytest.approx(3)
    assert load.litres_between(0, 60) == 0


@pytest.mark.parametrize(
    ("loss", "salt"),
    [
        (Loss("urine", 1), LOST["urine"]),
        (Loss("urine", 1, sodium_mmol_l=10), Salt(10, 40, 50)),
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
