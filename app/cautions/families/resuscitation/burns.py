"""A burn's first day against its plan."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from app.catalogue.source import Source
from app.cautions.cited import PRACTICE
from app.cautions.facts import urine_ml_kg_h
from app.cautions.phrases import number
from app.cautions.rule import Finding, Level, Limit, Limits, Rule
from app.cautions.shared.flow import is_fast
from app.cautions.shared.fluid_facts import HYPERTONIC_SODIUM_MMOL_L, child, is_hypotonic
from app.patient.case import Case
from app.patient.known import NotKnown, known
from app.patient.order import Order
from app.patient.snapshot import Snapshot
from app.physiology.burns import FIRST_PHASE_H, SECOND_PHASE_H
from app.physiology.maintenance import maintenance_4_2_1_ml_h

BURN_BODIES: Final = Source("American Burn Association, 2008 and 2023; Baxter 1968", seen=False)
PERCENT: Final = re.compile(r"(\d+(?:\.\d+)?)\s*(?:%|percent)")
HOURS_AGO: Final = re.compile(r"(\d+(?:\.\d+)?)\s*(?:h|hr|hrs|hours?)\b")
LATER: Final = re.compile(r"\bday\s*(?:[2-9]|\d\d)|\b(?:[2-9]|\d\d)\s*(?:days?|weeks?)|\bweek")
DAY_H: Final = 24.0
# Time left in which half the plan may still be caught up.
LAST_HOUR_H: Final = 1.0


@dataclass(frozen=True, slots=True)
class Plan:
    """Size of the burn, %, weight, kg, and the lowest and highest rate now, mL/h."""

    percent: float
    weight_kg: float
    low_ml_h: float
    high_ml_h: float


def burn_off_plan(case: Case, limits: Limits) -> Iterator[Finding]:
    """A rate outside every usual formula while urine does not say that it is right."""
    patient = case.patient
    if not case.orders or "burns" not in patient.conditions:
        return
    percent, hours = _told(patient)
    least = limits["least_child_percent" if child(patient) else "least_percent"]
    if percent is None or percent < least or (hours is not None and hours > DAY_H):
        return
    salt = [order for order in case.orders if _is_isotonic(order)]
    if any(order.rate_ml_h is None and not is_fast(order) for order in salt):
        raise NotKnown("rate_ml_h", "missing", "the rate of an order is not told")
    plan = _plan(patient, percent, hours, limits)
    rate = sum(order.rate_ml_h or 0.0 for order in salt)
    yield from _judged(case, rate, plan, limits)


def _told(patient: Snapshot) -> tuple[float | None, float | None]:
    """Size, %, and hours since, as the record's words give them; days count as over 24 h."""
    text = patient.conditions.detail.get("burns", "").lower()
    percent, hours = PERCENT.search(text), HOURS_AGO.search(text)
    since = float(hours[1]) if hours else None
    if LATER.search(text):
        since = 2 * DAY_H
    return (float(percent[1]) if percent else None), since


def _is_isotonic(order: Order) -> bool:
    """A fluid that counts towards the plan: salt as in plasma, or albumin; never starch or
    gelatin, which no plan is made of.
    """
    if order.mix is None or order.mix.starch_g_l or order.mix.gelatin_g_l:
        return False
    strong = order.mix.sodium_mmol_l > HYPERTONIC_SODIUM_MMOL_L
    return not strong and not is_hypotonic(order.mix)


def _plan(patient: Snapshot, percent: float, hours: float | None, limits: Limits) -> Plan:
    weight = known(patient.weight_kg, "weight_kg")
    low, high = (limits[name] * weight * percent / 2 for name in ("low_ml_kg", "high_ml_kg"))
    upkeep = maintenance_4_2_1_ml_h(weight) if child(patient) else 0.0
    if hours is None:
        low_rate, high_rate = low / SECOND_PHASE_H, high / FIRST_PHASE_H
    elif hours < FIRST_PHASE_H:
        low_rate = low / FIRST_PHASE_H
        high_rate = high / max(FIRST_PHASE_H - hours, LAST_HOUR_H)
    else:
        low_rate, high_rate = low / SECOND_PHASE_H, high / SECOND_PHASE_H
    return Plan(percent, weight, low_rate + upkeep, high_rate + upkeep)


def _judged(case: Case, rate: float, plan: Plan, limits: Limits) -> Iterator[Finding]:
    urine = urine_ml_kg_h(case.patient)
    under = rate < plan.low_ml_h * (1 - limits["off_share"])
    over = rate > plan.high_ml_h * (1 + limits["off_share"])
    if under and any(order.is_bolus and _is_isotonic(order) for order in case.orders):
        return
    level: Level | None = None
    if under:
        level = _level_under(rate, plan, urine, limits)
    elif over:
        level = _level_over(urine, limits)
    if level is None:
        return
    said = "" if urine is None else f", urine {number(urine)} mL/kg/h"
    plan_words = f"{number(round(plan.low_ml_h))} to {number(round(plan.high_ml_h))} mL/h"
    yield Finding(
        level,
        f"Burn of {number(plan.percent)}%, {number(plan.weight_kg)} kg: {number(rate)} mL/h{said}; "
        f"{plan_words} is a usual start.",
        f"{number(limits['low_ml_kg'])} to {number(limits['high_ml_kg'])} mL/kg for each percent "
        f"in 24 h gives {plan_words}; {number(rate)} mL/h of isotonic fluid is ordered{said}.",
        figures={"rate_ml_h": rate, "burn_percent": plan.percent},
        limits=("low_ml_kg", "high_ml_kg", "off_share", "urine_low_ml_kg_h", "urine_high_ml_kg_h"),
        order_ids=tuple(order.id for order in case.orders),
    )


def _level_under(rate: float, plan: Plan, urine: float | None, limits: Limits) -> Level | None:
    if urine is None:
        return "warning"
    if urine >= limits["urine_low_ml_kg_h"]:
        return None
    return "critical" if rate < plan.low_ml_h * limits["far_under_share"] else "warning"


def _level_over(urine: float | None, limits: Limits) -> Level | None:
    if urine is None or urine < limits["urine_low_ml_kg_h"]:
        return "info"
    return "warning" if urine > limits["urine_high_ml_kg_h"] else None


RULES: Final = (
    Rule(
        id="burn-hypovolaemic",
        title="Burn fluid off plan",
        trigger="A burn of 15% or more (child 10%) in its first 24 h and isotonic fluid more than "
        "a quarter under 2 or over 4 mL/kg for each percent (half of it in the first 8 h, a "
        "child's maintenance besides), unless urine is 0.5 to 1 mL/kg/h. Under: warning, critical "
        "below half with little urine. Over: warning with much urine, else info.",
        unless="inhalation or electrical injury, or a late start, explains a higher rate",
        do="Set the rate by urine, 0.5 to 1 mL/kg/h: a fifth to a third more or less each hour.",
        evidence="Every formula is a start only. Too much does harm as well: swelling of "
        "abdomen, limbs and airway.",
        sources=(BURN_BODIES, PRACTICE),
        needs=("weight_kg", "rate_ml_h"),
        limits=(
            Limit("least_percent", 15, "%", "burn that needs a plan in an adult"),
            Limit("least_child_percent", 10, "%", "burn that needs a plan in a child"),
            Limit("low_ml_kg", 2, "mL/kg/%/24 h", "lowest formula"),
            Limit("high_ml_kg", 4, "mL/kg/%/24 h", "highest formula"),
            Limit("off_share", 0.25, "of the rate", "beyond the formulas", PRACTICE),
            Limit("far_under_share", 0.5, "of the rate", "far under the lowest", PRACTICE),
            Limit("urine_low_ml_kg_h", 0.5, "mL/kg/h", "least urine"),
            Limit("urine_high_ml_kg_h", 1, "mL/kg/h", "more urine than needed"),
        ),
        levels=("critical", "warning", "info"),
        for_patient=burn_off_plan,
    ),
)
