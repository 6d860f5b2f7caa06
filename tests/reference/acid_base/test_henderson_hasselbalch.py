"""Henderson and Hasselbalch's equation, textbook; solubility 0.0301 mmol/L/mmHg (from memory).

Worked by hand. Analysers that use 0.0307 read 7.391 where this reads 7.400.
"""

import pytest

from app.physiology.acid_base import MMHG_PER_KPA, bicarbonate_of, ph_of


@pytest.mark.parametrize(
    ("bicarbonate", "pco2", "ph"), [(24, 40, 7.400), (15, 30, 7.320), (36, 48, 7.496)]
)
def test_ph_from_bicarbonate_and_carbon_dioxide(bicarbonate: float, pco2: float, ph: float) -> None:
    assert ph_of(bicarbonate, pco2) == pytest.approx(ph, abs=0.005)
    assert bicarbonate_of(ph_of(bicarbonate, pco2), pco2) == pytest.approx(bicarbonate)


def test_kilopascals_give_the_same() -> None:
    assert ph_of(24, 5.333 * MMHG_PER_KPA) == pytest.approx(7.400, abs=0.005)
