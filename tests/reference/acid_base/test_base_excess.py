"""Siggaard-Andersen base excess of extracellular fluid; CLSI C46 variant (memory, by hand)."""

import pytest

from app.physiology.acid_base import laboratory_base_excess_mmol_l, standard_base_excess_mmol_l


@pytest.mark.parametrize(
    ("bicarbonate", "ph", "standard", "laboratory"),
    [
        (24.4, 7.40, 0.00, -0.40),
        (15, 7.25, -10.81, -12.23),
        (10, 7.10, -17.52, -19.66),
        (36, 7.50, 12.16, 12.82),
    ],
)
def test_both_forms(bicarbonate: float, ph: float, standard: float, laboratory: float) -> None:
    assert standard_base_excess_mmol_l(bicarbonate, ph) == pytest.approx(standard, abs=0.01)
    assert laboratory_base_excess_mmol_l(bicarbonate, ph) == pytest.approx(laboratory, abs=0.01)
