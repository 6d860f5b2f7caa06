"""The solver of pH against Stewart's own equations (Can J Physiol Pharmacol 1983;61:1444; his
constants from memory): one weak acid of 20 mEq/L with a single dissociation in place of albumin
and phosphate, carbonate and water reckoned. Worked out here by bisection, apart from the model.
"""

import numpy as np
import pytest

from app.physiology.course.charges import ph_that_balances

# mol/L; Kc is (mol/L)^2 for each mmHg.
K_WATER, K_CARBONIC, K_CARBONATE, K_WEAK = 4.4e-14, 2.46e-11, 6.0e-11, 3.0e-7
WEAK_ACID = 0.020
# Albumin and phosphate of a plasma with as much weak acid: by Figge's lines about 17 mEq/L of
# charge at pH 7.4, as Stewart's 20 mEq/L has.
ALBUMIN, PHOSPHATE = 52.0, 1.3


def stewart_ph(strong_meq_l: float, pco2_mmhg: float) -> float:
    """pH at which his six equations hold."""

    def over(ph: float) -> float:
        hydrogen = 10.0**-ph
        bicarbonate = K_CARBONIC * pco2_mmhg / hydrogen
        carbonate = K_CARBONATE * bicarbonate / hydrogen
        weak = WEAK_ACID * K_WEAK / (K_WEAK + hydrogen)
        cations = strong_meq_l / 1000 + hydrogen
        return cations - bicarbonate - 2 * carbonate - weak - K_WATER / hydrogen

    low, high = 6.0, 8.5
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if over(middle) > 0 else (low, middle)
    return low


def our_ph(strong_meq_l: float, pco2_mmhg: float) -> float:
    one = np.ones(1)
    ph = ph_that_balances(strong_meq_l * one, ALBUMIN * one, PHOSPHATE * one, pco2_mmhg * one)
    return float(ph[0])


def test_his_normal_plasma_has_a_normal_ph() -> None:
    # His example: strong ion difference 42, carbon dioxide 40 mmHg.
    assert stewart_ph(42, 40) == pytest.approx(7.40, abs=0.03)
    assert our_ph(42, 40) == pytest.approx(7.40, abs=0.03)


@pytest.mark.parametrize("strong", [32.0, 37.0, 42.0, 47.0])
@pytest.mark.parametrize("pco2", [25.0, 40.0, 60.0])
def test_ph_moves_as_his_does(strong: float, pco2: float) -> None:
    theirs = stewart_ph(strong, pco2) - stewart_ph(42, 40)
    assert our_ph(strong, pco2) - our_ph(42, 40) == pytest.approx(theirs, abs=0.035)
