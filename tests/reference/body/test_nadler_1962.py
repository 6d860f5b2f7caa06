"""Nadler, Hidalgo, Bloch, Surgery 1962;51:224 (from memory). Worked by hand."""

from typing import Literal

import pytest

from app.physiology.body import blood_volume_l, plasma_volume_l


@pytest.mark.parametrize(
    ("sex", "height", "weight", "blood", "haematocrit", "plasma"),
    [("male", 175, 70, 4.824, 0.45, 2.653), ("female", 165, 60, 3.768, 0.40, 2.261)],
)
def test_blood_and_plasma_volume(  # noqa: PLR0913 - one column each
    sex: Literal["female", "male"],
    height: float,
    weight: float,
    blood: float,
    haematocrit: float,
    plasma: float,
) -> None:
    worked = blood_volume_l(sex=sex, height_cm=height, weight_kg=weight)
    assert worked == pytest.approx(blood, rel=0.001)
    assert plasma_volume_l(worked, haematocrit) == pytest.approx(plasma, rel=0.001)
