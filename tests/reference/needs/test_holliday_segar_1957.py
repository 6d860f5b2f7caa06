"""Holliday and Segar, Pediatrics 1957;19:823 (from memory); the hourly form is bedside practice."""

import pytest

from app.physiology.maintenance import maintenance_4_2_1_ml_h, maintenance_ml_day


@pytest.mark.parametrize(
    ("weight", "day", "by_day", "hour"),
    [(8, 800, 33.33, 32), (15, 1250, 52.08, 50), (25, 1600, 66.67, 65), (40, 1900, 79.17, 80)],
)
def test_maintenance_by_day_and_by_hour(
    weight: float, day: float, by_day: float, hour: float
) -> None:
    assert maintenance_ml_day(weight) == day
    assert maintenance_ml_day(weight) / 24 == pytest.approx(by_day, abs=0.005)
    assert maintenance_4_2_1_ml_h(weight) == hour
