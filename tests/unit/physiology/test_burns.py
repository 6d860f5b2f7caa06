"""Fluid for a burn."""

import pytest

from app.physiology.burns import parkland


def test_a_plan_that_starts_late_still_gives_the_same_total() -> None:
    late = parkland(weight_kg=70, burn_percent=30, hours_since_burn=3)
    assert late.first_rate_ml_h * 5 + late.second_rate_ml_h * 16 == pytest.approx(late.total_ml)


def test_after_eight_hours_there_is_no_first_phase() -> None:
    with pytest.raises(ValueError, match="under 8"):
        parkland(weight_kg=70, burn_percent=30, hours_since_burn=8)
