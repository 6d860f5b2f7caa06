"""Edelman et al., J Clin Invest 1958;37:1236; Nguyen and Kurtz, Clin Exp Nephrol 2003;7:125.

Coefficients 1.03 and 23.8 seen in the abstract of Am J Physiol Renal 2005;288:F1; the balance
form from memory. Worked by hand, not published.
"""

import pytest

from app.physiology.sodium import exchangeable_per_litre_mmol_l, sodium_after_balance_mmol_l

# what, sodium, body water L, salt in minus out mmol, water in minus out L, change
CASES = [
    ("0.18 L of 3% saline", 112, 23.0, 92.34, 0.18, 3.049),
    ("1 L of 3% saline", 112, 23.0, 513.0, 1.0, 16.36),
    ("1 L of water", 168, 34.0, 0.0, 1.0, -5.480),
    ("2 L of 0.9% saline kept", 140, 42.0, 308.0, 2.0, -0.2355),
    ("2 L of water", 140, 42.0, 0.0, 2.0, -7.445),
]


@pytest.mark.parametrize(("what", "sodium", "water", "salt", "litres", "change"), CASES)
def test_sodium_after_a_balance(  # noqa: PLR0913 - one column each
    what: str, sodium: float, water: float, salt: float, litres: float, change: float
) -> None:
    after = sodium_after_balance_mmol_l(
        sodium_mmol_l=sodium, body_water_l=water, salt_gain_mmol=salt, water_gain_l=litres
    )
    assert after - sodium == pytest.approx(change, rel=0.005)


def test_urine_counts_against_what_is_given() -> None:
    salt = 0.18 * 513 - 0.5 * 50
    after = sodium_after_balance_mmol_l(
        sodium_mmol_l=112, body_water_l=23, salt_gain_mmol=salt, water_gain_l=0.18 - 0.5
    )
    assert after == pytest.approx(116.97, abs=0.01)


def test_exchangeable_salt_behind_a_normal_sodium() -> None:
    assert exchangeable_per_litre_mmol_l(140) == pytest.approx(159.0, rel=0.001)
