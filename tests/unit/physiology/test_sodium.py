"""What an infusion does to plasma sodium."""

import pytest

from app.physiology.sodium import (
    plasma_osmolality_mosm_kg,
    sodium_after_balance_mmol_l,
    sodium_change_mmol_l,
    sodium_change_of_balance_mmol_l,
    sodium_for_glucose_mmol_l,
    volume_for_change_l,
)


def change(infusate: float, litres: float = 1.0) -> float:
    return sodium_change_mmol_l(
        infusate_mmol_l=infusate, volume_l=litres, sodium_mmol_l=120, body_water_l=40
    )


def test_potassium_raises_sodium_as_sodium_does() -> None:
    assert change(154 + 40) > change(154) > 0


def test_a_fluid_at_the_patients_own_sodium_changes_nothing() -> None:
    assert change(120) == 0


def test_the_second_litre_does_less_than_the_first() -> None:
    assert change(513, 2) < 2 * change(513, 1)


def test_the_volume_for_a_change_brings_that_change() -> None:
    litres = volume_for_change_l(
        infusate_mmol_l=513, change_mmol_l=4, sodium_mmol_l=120, body_water_l=40
    )
    assert change(513, litres) == pytest.approx(4)


@pytest.mark.parametrize("infusate", [0, 120, 124])
def test_no_volume_of_a_weaker_fluid_raises_sodium(infusate: float) -> None:
    with pytest.raises(ValueError, match="no volume"):
        volume_for_change_l(
            infusate_mmol_l=infusate, change_mmol_l=4, sodium_mmol_l=120, body_water_l=40
        )


def test_losing_water_alone_raises_sodium() -> None:
    after = sodium_after_balance_mmol_l(
        sodium_mmol_l=140, body_water_l=40, salt_gain_mmol=0, water_gain_l=-1
    )
    assert after > 140


def test_a_high_glucose_hides_sodium() -> None:
    assert sodium_for_glucose_mmol_l(125, 40) > 130


def test_two_half_litres_together_do_what_the_litre_does() -> None:
    together = sodium_change_of_balance_mmol_l(
        salt_gain_mmol=513, water_gain_l=1, sodium_mmol_l=120, body_water_l=40
    )
    assert together == pytest.approx(change(513))


def test_sodium_counts_twice_for_its_anions() -> None:
    low = plasma_osmolality_mosm_kg(sodium_mmol_l=130, glucose_mmol_l=5)
    assert plasma_osmolality_mosm_kg(sodium_mmol_l=140, glucose_mmol_l=5) - low == 20


def test_urea_counts_once_and_only_when_asked() -> None:
    without = plasma_osmolality_mosm_kg(sodium_mmol_l=140, glucose_mmol_l=5)
    both = plasma_osmolality_mosm_kg(sodium_mmol_l=140, glucose_mmol_l=5, urea_mmol_l=30)
    assert (without, both) == (285, 315)
