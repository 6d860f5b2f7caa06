"""Rates that look like a slip of the pen: tenfold, per day for per hour, wrong unit."""

from collections.abc import Iterator
from typing import Final

from app.cautions.cited import CHILD_FLUIDS, HOLLIDAY_SEGAR, PRACTICE
from app.cautions.day_loads import documented_losses
from app.cautions.phrases import number
from app.cautions.rule import Finding, Limit, Limits, Rule
from app.cautions.shared.fluid_facts import known_child
from app.patient.case import Situation
from app.patient.known import known
from app.patient.order import Order
from app.patient.snapshot import Snapshot
from app.physiology.maintenance import maintenance_4_2_1_ml_h

# Adults in whom litres an hour are meant.
FAST_IS_MEANT: Final = (
    "haemorrhage", "massive_transfusion", "burns", "major_burns", "shock", "septic_shock",
    "trauma", "cardiac_arrest", "sepsis", "diabetic_ketoacidosis", "hyperosmolar_state",
    "hypovolaemia", "dehydration", "rhabdomyolysis",
)  # fmt: skip
FLUID_PURPOSES: Final = ("maintenance", "replacement", "resuscitation")


def rate_implausible_adult(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """An adult rate that hardly anyone means, without a bolus or a reason for speed."""
    order, patient = situation.order, situation.patient
    rate = order.rate_ml_h
    if rate is None or order.is_bolus or not patient.is_adult():
        return
    if rate < limits["slow_ml_h"]:
        yield from _too_slow(order, rate, limits)
        return
    limit = _adult_limit(situation, rate, limits)
    if limit is None:
        return
    tenfold = order.purpose == "maintenance" and rate > limits["fast_ml_h"]
    per_day = f"; that is {number(rate * 24 / 1000)} L a day"
    yield Finding(
        "critical" if tenfold else "warning",
        f"{number(rate)} mL/h is implausible for {_what(order)}{per_day if tenfold else ''}.",
        f"{number(rate)} mL/h, limit here {number(limits[limit])} mL/h{per_day}. "
        f"Ordered: “{order.written}”.",
        figures={"rate_ml_h": rate},
        limits=(limit,),
    )


def _adult_limit(situation: Situation, rate: float, limits: Limits) -> str | None:
    """The name of the limit this rate breaks, None when it breaks none or speed is meant."""
    order, patient = situation.order, situation.patient
    if order.purpose == "maintenance" and patient.setting != "theatre":
        return "maintenance_fast_ml_h" if rate > limits["maintenance_fast_ml_h"] else None
    small = limits["small_ed_ml" if patient.setting == "ED" else "small_ml"]
    if _small(order, small) or _fast_is_meant(situation):
        return None
    if rate > limits["fast_ml_h"]:
        return "fast_ml_h"
    lasts = _planned_h(order) > limits["sustained_h"] or _is_hypotonic(order)
    return "sustained_ml_h" if rate > limits["sustained_ml_h"] and lasts else None


def _fast_is_meant(situation: Situation) -> bool:
    order, patient = situation.order, situation.patient
    if order.purpose in ("resuscitation", "redistribution") or patient.setting == "theatre":
        return True
    return patient.conditions.any_of(*FAST_IS_MEANT)


def _small(order: Order, small_ml: float) -> bool:
    """A short intermittent infusion: its volume is small whatever the rate."""
    return order.volume_ml is not None and order.volume_ml <= small_ml


def _is_hypotonic(order: Order) -> bool:
    """Free water at this speed is never meant, however short."""
    return order.fluid is not None and order.fluid.tonicity_class == "hypotonic"


def _planned_h(order: Order) -> float:
    """Hours this rate is planned for; without an end it is taken to go on."""
    if order.duration_h is not None:
        return order.duration_h
    if order.volume_ml is not None and order.rate_ml_h:
        return order.volume_ml / order.rate_ml_h
    return float("inf")


def _too_slow(order: Order, rate: float, limits: Limits) -> Iterator[Finding]:
    """Under 5 mL/h is a drug's or a flush's rate, not a fluid's."""
    by_purpose = order.purpose in FLUID_PURPOSES
    big_bag = order.purpose is None and (order.volume_ml or 0) > limits["small_ml"]
    if not by_purpose and not big_bag:
        return
    yield Finding(
        "warning",
        f"{number(rate)} mL/h is implausibly slow for {_what(order)}.",
        f"{number(rate)} mL/h gives {number(rate * 24)} mL a day.",
        figures={"rate_ml_h": rate},
        limits=("slow_ml_h",),
    )


def _what(order: Order) -> str:
    return f"{order.purpose} fluid" if order.purpose in FLUID_PURPOSES else "a fluid in an adult"


def rate_implausible_child(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """A child's rate far above maintenance by weight, without a bolus or a loss to replace."""
    order, patient = situation.order, situation.patient
    rate = order.rate_ml_h
    if rate is None or order.is_bolus or order.purpose == "resuscitation":
        return
    if not known_child(patient):
        return
    weight = known(patient.weight_kg, "weight_kg")
    if _small(order, limits["small_ml_kg"] * weight):
        return
    maintenance, basis = _child_maintenance_ml_h(patient, weight, limits)
    times = rate / maintenance
    limit = _child_limit(situation)
    if times <= limits[limit] or patient.conditions.any_of("burns", "major_burns"):
        return
    tenfold = "neonate_times_tenfold" if patient.is_neonate() else "times_tenfold"
    critical = times >= limits[tenfold]
    yield Finding(
        "critical" if critical else "warning",
        f"{number(rate)} mL/h is {number(round(times, 1))} times maintenance for "
        f"{number(weight)} kg.",
        f"{basis} is {number(maintenance)} mL/h at {number(weight)} kg; ordered "
        f"{number(rate)} mL/h ({number(round(rate / weight, 1))} mL/kg/h).",
        figures={
            "rate_ml_h": rate,
            "weight_kg": weight,
            "maintenance_ml_h": round(maintenance, 1),
            "times_maintenance": round(times, 2),
        },
        limits=(limit, tenfold) if critical else (limit,),
    )


def _child_limit(situation: Situation) -> str:
    """Which multiple of maintenance applies: more where losses are recorded or replaced."""
    losses = bool(documented_losses(situation.patient))
    if situation.order.purpose in ("replacement", "correction"):
        return "times_with_losses"
    if not losses and situation.patient.setting != "theatre":
        return "times_maintenance"
    upkeep = situation.order.purpose == "maintenance"
    return "times_upkeep_with_losses" if upkeep else "times_with_losses"


def _child_maintenance_ml_h(
    patient: Snapshot, weight_kg: float, limits: Limits
) -> tuple[float, str]:
    if patient.is_neonate():
        return limits["neonate_ml_kg_day"] * weight_kg / 24, "The most a term newborn needs"
    return maintenance_4_2_1_ml_h(weight_kg), "Maintenance by the 4-2-1 rule"


RULES: Final = (
    Rule(
        id="ord-rate-implausible-adult",
        title="Rate implausible for an adult",
        trigger="No bolus, and over 1000 mL/h, or over 500 mL/h for more than 2 h or of a "
        "hypotonic fluid, or maintenance "
        "over 250 mL/h (critical over 1000), or a fluid under 5 mL/h. Volumes up to 500 mL are "
        "taken for a short infusion.",
        unless="litres an hour are meant: resuscitation, bleeding, burns, sepsis, ketoacidosis, "
        "theatre",
        do="Check rate and unit with the prescriber; look for a tenfold or per-day slip.",
        evidence="A rate in mL/day read as mL/h, or a slipped decimal point, is the usual cause.",
        sources=(PRACTICE,),
        needs=("age_years",),
        limits=(
            Limit("fast_ml_h", 1000, "mL/h", "faster than any plain infusion"),
            Limit("sustained_ml_h", 500, "mL/h", "fast when it goes on"),
            Limit("sustained_h", 2, "h", "what counts as going on"),
            Limit("maintenance_fast_ml_h", 250, "mL/h", "no adult's maintenance: 6 L a day"),
            Limit("slow_ml_h", 5, "mL/h", "slower than any fluid"),
            Limit("small_ml", 500, "mL", "a short intermittent infusion"),
            Limit("small_ed_ml", 1000, "mL", "the same in an emergency department"),
        ),
        population="adult",
        levels=("critical", "warning"),
        for_order=rate_implausible_adult,
    ),
    Rule(
        id="ord-rate-implausible-child",
        title="Rate far above weight-based maintenance",
        trigger="Under 16 years, no bolus, and over 1.5 times the 4-2-1 rate (newborn: over 1.5 "
        "times 150 mL/kg/day); with losses recorded or in theatre over 2.5 times for "
        "maintenance, over 5 times otherwise; critical from 5 times on (newborn 3).",
        unless="it is resuscitation, a burn, or at most 10 mL/kg in all",
        do="Check weight, unit and purpose again before starting.",
        evidence="Tenfold errors in children come from a slipped point or a weight in pounds. A "
        "deficit replaced over a day may double or treble maintenance.",
        sources=(CHILD_FLUIDS, HOLLIDAY_SEGAR),
        needs=("weight_kg", "age_years"),
        limits=(
            Limit("times_maintenance", 1.5, "times", "above maintenance with no reason"),
            Limit("times_upkeep_with_losses", 2.5, "times", "maintenance with losses", PRACTICE),
            Limit("times_with_losses", 5, "times", "above any usual replacement", PRACTICE),
            Limit("times_tenfold", 5, "times", "as far off as a slipped point", PRACTICE),
            Limit("neonate_times_tenfold", 3, "times", "the same in a newborn", PRACTICE),
            Limit("neonate_ml_kg_day", 150, "mL/kg/day", "most a term newborn needs"),
            Limit("small_ml_kg", 10, "mL/kg", "a short infusion, harmless by volume", PRACTICE),
        ),
        population="child",
        levels=("critical", "warning"),
        for_order=rate_implausible_child,
    ),
)
