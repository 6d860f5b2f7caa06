"""Watson, Watson, Batt, Am J Clin Nutr 1980;33:27 (from memory). Worked by hand."""

from typing import Literal

import pytest

from app.physiology.compartments import watson_l


@pytest.mark.parametrize(
    ("sex", "age", "height", "weight", "litres"),
    [
        ("male", 40, 175, 70, 40.97),
        ("female", 50, 165, 60, 30.34),
        ("male", 70, 170, 80, 40.94),
        ("female", 80, 155, 50, 26.80),
    ],
)
def test_body_water_of_adults(
    sex: Literal["female", "male"], age: float, height: float, weight: float, litres: float
) -> None:
    worked = watson_l(sex=sex, age_years=age, height_cm=height, weight_kg=weight)
    assert worked == pytest.approx(litres, rel=0.001)
