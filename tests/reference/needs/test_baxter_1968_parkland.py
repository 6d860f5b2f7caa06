"""Baxter and Shires 1968, the Parkland plan (from memory; 4 mL/kg/% also on a UK label, seen)."""

import pytest

from app.physiology.burns import parkland


def test_forty_percent_at_seventy_kilograms() -> None:
    plan = parkland(weight_kg=70, burn_percent=40)
    assert (plan.total_ml, plan.first_rate_ml_h, plan.second_rate_ml_h) == (11200, 700, 350)


def test_seen_two_hours_late_the_first_half_runs_faster() -> None:
    plan = parkland(weight_kg=70, burn_percent=40, hours_since_burn=2)
    assert plan.first_rate_ml_h == pytest.approx(933.3, abs=0.05)


def test_a_child_before_maintenance() -> None:
    assert parkland(weight_kg=20, burn_percent=15).total_ml == 1200
