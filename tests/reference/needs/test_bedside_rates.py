"""Drops, run-out and amounts by the hour: arithmetic of the ward, no source; worked by hand.

Glucose rate: the usual definition, from memory.
"""

from datetime import UTC, datetime

import pytest

from app.physiology.glucose import glucose_mg_kg_min
from app.physiology.rates import amount_per_hour, drops_per_min, run_out_at, run_out_minutes


@pytest.mark.parametrize(
    ("volume", "minutes", "set_", "drops"),
    [(1000, 480, 20, 41.67), (500, 240, 15, 31.25), (60, 60, 60, 60)],
)
def test_drops(volume: float, minutes: float, set_: float, drops: float) -> None:
    worked = drops_per_min(volume_ml=volume, minutes=minutes, drops_per_ml=set_)
    assert worked == pytest.approx(drops, abs=0.005)


def test_run_out() -> None:
    assert run_out_minutes(650, 125) == pytest.approx(312)
    assert run_out_minutes(80, 167) == pytest.approx(28.7, abs=0.05)
    start = datetime(2031, 3, 4, 14, 0, tzinfo=UTC)
    assert run_out_at(start, 650, 125) == datetime(2031, 3, 4, 19, 12, tzinfo=UTC)


def test_potassium_by_the_hour() -> None:
    assert amount_per_hour(125, 40) == 5.0
    assert amount_per_hour(125, 40) / 70 == pytest.approx(0.071, abs=0.0005)
    assert amount_per_hour(100, 200) == 20.0


@pytest.mark.parametrize(
    ("rate", "strength", "weight", "speed"),
    [(100, 100, 70, 2.381), (9, 100, 3, 5.0), (125, 50, 70, 1.488), (125, 50 / 1.1, 70, 1.353)],
)
def test_glucose_rate(rate: float, strength: float, weight: float, speed: float) -> None:
    worked = glucose_mg_kg_min(rate_ml_h=rate, glucose_g_l=strength, weight_kg=weight)
    assert worked == pytest.approx(speed, abs=0.001)
