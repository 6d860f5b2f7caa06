"""Sodium deficit and free-water deficit in their textbook forms (from memory).

Worked by hand, not published.
"""

import pytest

from app.physiology.sodium import free_water_deficit_l, sodium_deficit_mmol


@pytest.mark.parametrize(
    ("water", "sodium", "target", "deficit"), [(42, 115, 125, 420), (30, 118, 130, 360)]
)
def test_sodium_deficit(water: float, sodium: float, target: float, deficit: float) -> None:
    worked = sodium_deficit_mmol(sodium_mmol_l=sodium, target_mmol_l=target, body_water_l=water)
    assert worked == deficit


@pytest.mark.parametrize(
    ("water", "sodium", "litres"), [(42, 160, 6.0), (30, 155, 3.214), (34, 168, 6.8)]
)
def test_free_water_deficit(water: float, sodium: float, litres: float) -> None:
    worked = free_water_deficit_l(sodium_mmol_l=sodium, body_water_l=water)
    assert worked == pytest.approx(litres, rel=0.001)
