"""NICE NG29 (newborns, from memory) and CG174 (adults, seen quoted in a journal's table)."""

import pytest

from app.physiology.maintenance import adult_need, newborn_ml_kg_day


@pytest.mark.parametrize(
    ("day", "low", "high"),
    [(1, 50, 60), (2, 70, 80), (3, 80, 100), (4, 100, 120), (5, 120, 150), (28, 120, 150)],
)
def test_newborn_water_by_day_of_life(day: int, low: float, high: float) -> None:
    assert newborn_ml_kg_day(day) == (low, high)


@pytest.mark.parametrize(
    ("weight", "low", "high", "salt"), [(70, 1750, 2100, 70), (50, 1250, 1500, 50)]
)
def test_an_adults_day(weight: float, low: float, high: float, salt: float) -> None:
    need = adult_need(weight)
    assert (need.water_low_ml, need.water_high_ml) == (low, high)
    assert need.sodium_mmol == need.potassium_mmol == need.chloride_mmol == salt
    assert (need.glucose_low_g, need.glucose_high_g) == (50, 100)


def test_the_frail_get_less_water() -> None:
    need = adult_need(60, frail=True)
    assert (need.water_low_ml, need.water_high_ml) == (1200, 1500)
