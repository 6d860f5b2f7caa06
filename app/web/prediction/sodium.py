"""Sodium in a what-if: the limits of a day, when a band meets them, and the bedside formula."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import floor
from typing import Final

from app.catalogue.fluid import ML_PER_L
from app.cautions.rule import Limits
from app.physiology.course.body import Subject
from app.physiology.sodium import sodium_change_mmol_l
from app.web.pictures.curves import Bound, Curve, Result
from app.web.prediction.asked import Bag
from app.web.show import number

RISE_RULE: Final = "na-rise-forecast"
FALL_RULE: Final = "na-fall-forecast"
HOURS_PER_DAY: Final = 24.0
# A sodium that is far out, or meets a limit, is measured again this soon (common practice, no
# source); half the way to a limit when that is sooner.
NEXT_SAMPLE_H: Final = 4.0
LEAST_SAMPLE_H: Final = 0.5
FAR_LOW_MMOL_L: Final = 125.0
FAR_HIGH_MMOL_L: Final = 155.0
WHY_BOTH: Final = (
    "The formula spreads the fluid at once through all body water and counts no losses; the curve "
    "lets water and salt move over time and counts what kidneys pass, so the two differ."
)


@dataclass(frozen=True, slots=True)
class DayLimits:
    """Limits of one direction, the first value they are counted from, and where they come from.

    sign: 1 for a rise, -1 for a fall. note: said when the limits are not meant for this sodium.
    """

    bounds: tuple[Bound, ...]
    sign: int
    rule_id: str
    counted_from: str
    note: str


@dataclass(frozen=True, slots=True)
class Formula:
    """The bedside formula for one bag, mmol/L as text."""

    mark: str
    per_litre: str
    whole: str


def day_limits(
    subject: Subject, measured: Sequence[Result], limits: Mapping[str, Limits]
) -> DayLimits:
    """The most that sodium may move in 24 hours, counted from the day's lowest, or highest.

    measured: results at hours of now (before: negative). limits: those in force, by rule.
    """
    now = Result(0.0, subject.sodium_mmol_l, "the starting value")
    of_a_day = [*(r for r in measured if -HOURS_PER_DAY < r.hours <= 0), now]
    fall = limits[FALL_RULE]
    if subject.sodium_mmol_l > fall["sodium_high_mmol_l"]:
        first = max(of_a_day, key=lambda r: r.value)
        return _limits(first, -1, FALL_RULE, (fall["fall_mmol_l_day"],), "")
    rise = limits[RISE_RULE]
    first = min(of_a_day, key=lambda r: r.value)
    baseline = rise["sodium_baseline_mmol_l"]
    note = (
        ""
        if first.value < baseline
        else f"They are meant for a sodium that was under {number(baseline)}; here for scale."
    )
    most = rise["rise_mmol_l_day"], rise["rise_critical_mmol_l_day"]
    return _limits(first, 1, RISE_RULE, most, note)


def _limits(
    first: Result, sign: int, rule_id: str, changes: Sequence[float], note: str
) -> DayLimits:
    counted = f"{number(first.value)} mmol/L ({first.title})"
    bounds = tuple(
        Bound(
            value=first.value + sign * change,
            from_h=first.hours,
            to_h=first.hours + HOURS_PER_DAY,
            words=f"{number(sign * change) if sign < 0 else f'+{number(change)}'} in 24 h",
            title=f"{number(change)} mmol/L from {counted} within 24 h: a limit of this unit",
        )
        for change in changes
    )
    return DayLimits(bounds, sign, rule_id, counted, note)


def meets_h(curve: Curve, bound: Bound, sign: int) -> float | None:
    """When the band first reaches a limit, h from now; None when it stays inside."""
    edge = curve.high if sign > 0 else curve.low
    for hours, value in zip(curve.hours, edge, strict=True):
        if bound.from_h <= hours <= bound.to_h and sign * (value - bound.value) >= 0:
            return hours
    return None


def meeting_words(curves: Sequence[Curve], limits: DayLimits) -> tuple[str, ...]:
    """One sentence for each limit that a band reaches."""
    said = []
    for curve in curves:
        for bound in limits.bounds:
            at = meets_h(curve, bound, limits.sign)
            if at is not None:
                of = f"{curve.mark}: the" if curve.mark else "The"
                when = f"at about {number(at)} h" if at else "at once"
                said.append(f"{of} band reaches {bound.words} {when}.")
    return tuple(said)


def next_sample(subject: Subject, curves: Sequence[Curve], limits: DayLimits) -> str:
    """When to measure again; empty where sodium is near normal and meets no limit."""
    met = [meets_h(c, b, limits.sign) for c in curves for b in limits.bounds]
    soonest = min((h for h in met if h is not None), default=None)
    near = FAR_LOW_MMOL_L <= subject.sodium_mmol_l <= FAR_HIGH_MMOL_L
    if soonest is None and near:
        return ""
    hours = NEXT_SAMPLE_H if soonest is None else min(NEXT_SAMPLE_H, floor(soonest) / 2)
    return (
        f"Measure sodium again within {number(max(LEAST_SAMPLE_H, hours))} h "
        "(common practice, no source)."
    )


def formulas(bags: Sequence[Bag], volume_ml: float, subject: Subject) -> tuple[Formula, ...]:
    """Change of sodium by a litre, and by the whole volume, of each bag."""
    return tuple(
        Formula(bag.mark, _change(bag, volume_ml, 1.0, subject),
                _change(bag, volume_ml, volume_ml / ML_PER_L, subject))
        for bag in bags
    )  # fmt: skip


def _change(bag: Bag, volume_ml: float, litres: float, subject: Subject) -> str:
    change = sodium_change_mmol_l(
        infusate_mmol_l=bag.mix(volume_ml).cation_salt_mmol_l,
        volume_l=litres,
        sodium_mmol_l=subject.sodium_mmol_l,
        body_water_l=subject.water_l,
    )
    text = number(round(change, 1))
    return f"+{text}" if round(change, 1) > 0 else text
