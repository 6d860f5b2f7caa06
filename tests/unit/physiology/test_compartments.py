"""Body water and where a fluid goes."""

import pytest

from app.physiology.compartments import (
    spread_crystalloid,
    total_body_water_l,
    water_share,
    watson_l,
)


def test_an_adult_with_height_is_judged_by_height_and_age() -> None:
    by_height = total_body_water_l(weight_kg=120, age_years=50, sex="female", height_cm=165)
    assert by_height == watson_l(sex="female", age_years=50, height_cm=165, weight_kg=120)
    assert by_height < 0.5 * 120


def test_without_height_body_water_is_a_share_of_weight() -> None:
    assert total_body_water_l(weight_kg=70, age_years=40, sex="male", height_cm=None) == 42


def test_a_child_is_never_judged_by_an_adult_formula() -> None:
    assert total_body_water_l(weight_kg=20, age_years=6, sex="male", height_cm=116) == 12


@pytest.mark.parametrize(("age", "share"), [(10 / 365, 0.75), (0.5, 0.7), (6, 0.6)])
def test_the_younger_the_wetter(age: float, share: float) -> None:
    assert water_share(age, None) == share


def test_unknown_sex_takes_the_share_that_forecasts_the_larger_change() -> None:
    assert water_share(40, None) == 0.5
    assert water_share(None, None) == 0.5


def test_a_strong_salt_solution_draws_water_out_of_cells() -> None:
    spread = spread_crystalloid(1, -2.3)
    assert spread.cells_l < 0
    assert spread.plasma_l + spread.interstitial_l + spread.cells_l == pytest.approx(1)
