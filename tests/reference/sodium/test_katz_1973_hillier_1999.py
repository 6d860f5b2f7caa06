"""Katz, N Engl J Med 1973;289:843; Hillier, Abbott, Barrett, Am J Med 1999;106:399.

Factors from memory; examples worked by hand.
"""

import pytest

from app.physiology.sodium import HILLIER_MMOL_L_PER_STEP, sodium_for_glucose_mmol_l

MG_DL_PER_MMOL_L = 18.016


@pytest.mark.parametrize(
    ("sodium", "glucose", "katz", "hillier"),
    [(130, 500 / MG_DL_PER_MMOL_L, 136.4, 139.6), (128, 40, 137.9, 142.9)],
)
def test_sodium_were_glucose_normal(
    sodium: float, glucose: float, katz: float, hillier: float
) -> None:
    assert sodium_for_glucose_mmol_l(sodium, glucose) == pytest.approx(katz, abs=0.05)
    by_hillier = sodium_for_glucose_mmol_l(sodium, glucose, HILLIER_MMOL_L_PER_STEP)
    assert by_hillier == pytest.approx(hillier, abs=0.05)


def test_a_normal_glucose_changes_nothing() -> None:
    assert sodium_for_glucose_mmol_l(130, 5) == 130
