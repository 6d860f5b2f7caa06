"""What nutrition is said to hold."""

import pytest

from app.chemistry.composition import Composition
from app.intake.orders.contents import stated_contents


def test_amounts_in_total_are_read_each_with_its_name() -> None:
    text = "TPN 1800 mL, sodium 80 mmol, 60 mmol potassium and glucose 250 g"
    expected = Composition(sodium_mmol_l=80, potassium_mmol_l=60, glucose_g_l=250)
    assert stated_contents(text, 1800) == expected


def test_an_amount_in_each_litre_is_taken_for_the_volume() -> None:
    held = stated_contents("PN, sodium 40 mmol/L, glucose 12.5%", 2000)
    assert held and (held.sodium_mmol_l, held.glucose_g_l) == (80, 250)


def test_an_amount_in_each_litre_of_unknown_volume_is_left_out() -> None:
    assert stated_contents("PN, sodium 40 mmol/L", None) is None


@pytest.mark.parametrize(
    "text", ["TPN 1,200 mOsm/L", "amino acids 50 g", "sodium 80 g", "sodium and potassium 80 mmol"]
)
def test_what_is_not_stated_is_not_made_up(text: str) -> None:
    held = stated_contents(text, 1000)
    assert held is None or held.sodium_mmol_l == 0


def test_names_in_a_row_each_take_the_amount_beside_them() -> None:
    held = stated_contents("PN bag K 60 mmol Ca 5 mmol PO4 30 mmol in 2 L over 24h", 2000)
    assert held and (held.potassium_mmol_l, held.calcium_mmol_l) == (60, 5)
    assert held.phosphate_mmol_l == 30
    text = "80 mmol sodium 60 mmol potassium 50 g amino acids 250 g glucose"
    held = stated_contents(text, 2000)
    assert held and (held.sodium_mmol_l, held.potassium_mmol_l, held.glucose_g_l) == (80, 60, 250)


def test_milliequivalents_count_by_charge_and_amounts_by_weight_are_left_out() -> None:
    held = stated_contents("K+ 40 mEq, Ca 10 mEq, sodium 2 mmol/kg", 1000)
    assert held and (held.potassium_mmol_l, held.calcium_mmol_l, held.sodium_mmol_l) == (40, 5, 0)


def test_another_nutrient_s_grams_are_not_those_of_glucose() -> None:
    held = stated_contents("amino acids 50 g glucose 250 g", 1000)
    assert held and held.glucose_g_l == 250
