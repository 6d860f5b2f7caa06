"""Rates: the clock runs on as the bag does."""

import pytest

from app.physiology.formulas.rates import LACTATE, POTASSIUM, RUN_OUT


def test_a_bag_is_empty_so_many_minutes_from_now() -> None:
    left, at = (part.work for part in RUN_OUT.parts)
    hours = at(start_h=9.5, remaining_ml=300, rate_ml_h=100) - 9.5
    assert hours * 60 == pytest.approx(left(remaining_ml=300, rate_ml_h=100))


def test_an_amount_by_the_kilogram_is_the_hours_amount_shared_out() -> None:
    for formula in (POTASSIUM, LACTATE):
        hour, kilogram = (part.work for part in formula.parts)
        pace = {"rate_ml_h": 150, "amount_per_l": 20}
        assert kilogram(weight_kg=60, **pace) * 60 == pytest.approx(hour(**pace)) == 3
