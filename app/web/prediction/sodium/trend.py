"""What the last results say beside the curve: measured before modelled."""

from datetime import timedelta
from typing import Final

from app.web.pictures.curves import Curve, Result
from app.web.prediction.panels import value_at
from app.web.prediction.sodium.limits import HOURS_PER_DAY, DayLimits
from app.web.prediction.sodium.reach import passes_h
from app.web.show import duration, number

# Results nearer to each other say little of a pace, and older ones little of now, h (common
# practice, no source).
LEAST_APART_H: Final = 2.0
NEWEST_WITHIN_H: Final = 12.0
# A pace that brings 6 mmol/L in a day.
FAST_MMOL_L_H: Final = 0.25
# The curve is slower when it makes less of the pace than this.
SLOWER: Final = 0.5
STEP_H: Final = 0.5


def trend_words(day: DayLimits, curve: Curve) -> str:
    """Said where the last two results move faster than the curve goes on; else empty."""
    pair = _last_two(day)
    if pair is None:
        return ""
    before, last = pair
    apart = last.hours - before.hours
    pace = (last.value - before.value) / apart
    ahead = min(apart, curve.hours[-1])
    goes = (value_at(curve, curve.mid, ahead) - curve.mid[0]) / ahead
    if abs(pace) < FAST_MMOL_L_H or (goes * pace > 0 and abs(goes) >= SLOWER * abs(pace)):
        return ""
    way = "risen" if pace > 0 else "fallen"
    said = (
        f"Sodium has {way} {number(abs(pace))} mmol/L an hour between its last two results; the "
        f"curve says {_pace_words(goes)}. Believe the results."
    )
    passing = _passing(day, pace)
    return f"{said} {passing}" if passing else said


def _last_two(day: DayLimits) -> tuple[Result, Result] | None:
    """The newest result and the one before it that is far enough away."""
    measured = [point for point in day.points[:-1] if point.hours >= -HOURS_PER_DAY]
    if not measured or measured[-1].hours < -NEWEST_WITHIN_H:
        return None
    last = measured[-1]
    earlier = [one for one in measured if last.hours - one.hours >= LEAST_APART_H]
    return (earlier[-1], last) if earlier else None


def _pace_words(pace: float) -> str:
    return f"{number(pace)} an hour" if round(pace, 1) else "it stands still"


def _passing(day: DayLimits, pace: float) -> str:
    """When a limit is passed at the pace measured; empty where it is past, or never."""
    if not day.names or day.sign * pace < 0:
        return ""
    hours = tuple(n * STEP_H for n in range(int(HOURS_PER_DAY / STEP_H) + 1))
    values = [day.now_mmol_l + pace * at for at in hours]
    name = day.names[-1]
    at = passes_h(hours, values, day, name)
    if not 0 < at <= HOURS_PER_DAY:
        return ""
    most = number(day.most_at(at, name))
    when = duration(timedelta(hours=at))
    return f"At that pace it passes {day.change_words(name)} ({most}) in {when}."
