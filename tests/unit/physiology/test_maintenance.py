"""A day's need."""

import pytest

from app.physiology.maintenance import (
    adult_need,
    maintenance_4_2_1_ml_h,
    maintenance_ml_day,
    newborn_ml_kg_day,
)


@pytest.mark.parametrize("weight", [3, 10, 15, 20, 40])
def test_the_two_forms_of_the_rule_stay_within_five_percent(weight: float) -> None:
    assert maintenance_4_2_1_ml_h(weight) * 24 == pytest.approx(
        maintenance_ml_day(weight), rel=0.05
    )


@pytest.mark.parametrize("day", [0, 29])
def test_newborn_needs_end_at_four_weeks(day: int) -> None:
    with pytest.raises(ValueError, match="1 to 28"):
        newborn_ml_kg_day(day)


def test_the_frail_need_less_water_than_others() -> None:
    assert adult_need(60, frail=True).water_high_ml < adult_need(60).water_high_ml
