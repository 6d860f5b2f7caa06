"""Drops, run-out times, and amounts by the hour."""

from datetime import datetime, timedelta
from typing import Final

MINUTES_PER_HOUR: Final = 60.0
ML_PER_L: Final = 1000.0


def drops_per_min(*, volume_ml: float, minutes: float, drops_per_ml: float) -> float:
    """Drop rate of a giving set, drops/min, from mL, minutes and the set's drops per mL."""
    return volume_ml * drops_per_ml / minutes


def run_out_minutes(remaining_ml: float, rate_ml_h: float) -> float:
    """Minutes until a bag is empty, from what is left (mL) and the rate (mL/h)."""
    return remaining_ml / rate_ml_h * MINUTES_PER_HOUR


def run_out_at(start: datetime, remaining_ml: float, rate_ml_h: float) -> datetime:
    """When a bag is empty."""
    return start + timedelta(minutes=run_out_minutes(remaining_ml, rate_ml_h))


def amount_per_hour(rate_ml_h: float, amount_per_l: float) -> float:
    """Amount each hour, in the unit of the concentration, from mL/h and amount per litre."""
    return rate_ml_h * amount_per_l / ML_PER_L
