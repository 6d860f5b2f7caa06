"""Salts of children and newborns.

Holliday MA, Segar WE, "The maintenance need for water in parenteral fluid therapy", Pediatrics
1957;19:823 (from memory): for each 100 kcal, so each 100 mL of water, 3 mEq of sodium, 2 of
potassium, 2 of chloride. NICE NG29, 2015 (from memory): water of a term newborn by day of life.
"""

import pytest

from app.physiology.maintenance import child_need, newborn_need


@pytest.mark.parametrize("weight", [5, 10, 25, 50])
def test_the_paper_s_salts_lie_within_a_child_s_need(weight: float) -> None:
    need = child_need(weight)
    hundreds = need.water_ml[0] / 100
    assert need.sodium_mmol[0] <= 3 * hundreds <= need.sodium_mmol[1]
    assert need.potassium_mmol[0] <= 2 * hundreds <= need.potassium_mmol[1]
    assert need.chloride_mmol[0] <= 2 * hundreds <= need.chloride_mmol[1]


def test_an_infant_needs_two_to_four_mmol_of_sodium_a_kilogram() -> None:
    low, high = child_need(10).sodium_mmol
    assert (low / 10, high / 10) == pytest.approx((1.92, 3.84))


def test_a_newborn_needs_no_salt_before_the_diuresis() -> None:
    assert newborn_need(3, 2).sodium_mmol == (0, 0)
    assert newborn_need(3, 3).sodium_mmol == (6, 12)


def test_a_newborn_needs_glucose_by_the_minute() -> None:
    # 4 to 8 mg/kg/min x 1,440 min x 3 kg = 17.3 to 34.6 g
    assert newborn_need(3, 1).glucose_g == pytest.approx((17.28, 34.56))
