"""Devine's ideal weight and the adjusted weight of practice (from memory). Worked by hand."""

from typing import Literal

import pytest

from app.physiology.body import adjusted_weight_kg, ideal_weight_kg


@pytest.mark.parametrize(("sex", "height", "ideal"), [("male", 175, 70.57), ("female", 160, 52.42)])
def test_ideal_weight(sex: Literal["female", "male"], height: float, ideal: float) -> None:
    assert ideal_weight_kg(height, sex) == pytest.approx(ideal, rel=0.001)


@pytest.mark.parametrize(
    ("sex", "height", "actual", "adjusted"),
    [("female", 160, 110, 75.45), ("male", 180, 140, 101.1)],
)
def test_adjusted_weight(
    sex: Literal["female", "male"], height: float, actual: float, adjusted: float
) -> None:
    ideal = ideal_weight_kg(height, sex)
    assert adjusted_weight_kg(ideal, actual) == pytest.approx(adjusted, rel=0.001)
