"""Glucose given while glucose is high."""

from collections.abc import Iterator
from typing import Final

from app.catalogue.source import Source
from app.cautions.cited import PRACTICE
from app.cautions.phrases import bag_name, number, opening, reading
from app.cautions.rule import Finding, Level, Limit, Limits, Rule
from app.cautions.shared.fluid_facts import water_is_treatment
from app.cautions.shared.glucose_given import brings_little_glucose, glucose_g_day
from app.cautions.shared.insulin import insulin_runs
from app.patient.case import Case, Situation
from app.patient.snapshot import Snapshot

DEXTROSE_LABEL: Final = Source("US dextrose injection label", "4, contraindications", seen=True)
CRISIS_GUIDES: Final = Source(
    "JBDS 02, 2023; ISPAD 2022; consensus on hyperglycaemic crises, 2024", seen=False
)
CRISES: Final = ("diabetic_ketoacidosis", "hyperosmolar_state")
# Where a glucose fluid without a result is itself worth asking about.
AT_RISK: Final = (*CRISES, "diabetes", "hyperglycaemia")
NUTRITION: Final = "parenteral_nutrition"


def glucose_fluid_in_high_glucose(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """A glucose fluid, more than a carrier, while glucose is above 15 mmol/L."""
    order, patient, mix = situation.order, situation.patient, situation.order.mix
    if mix is None or mix.glucose_g_l <= 0 or brings_little_glucose(order, patient):
        return
    glucose = _glucose(patient)
    if glucose is None or glucose <= limits["glucose_high_mmol_l"]:
        return
    level = _level(situation, glucose, limits)
    if level is None:
        return
    with_insulin = "insulin runs" if insulin_runs(situation.case) else "no insulin runs"
    yield Finding(
        level,
        f"Glucose {number(glucose)} mmol/L, {with_insulin}, and this fluid holds "
        f"{number(mix.glucose_g_l)} g/L of glucose.",
        f"{opening(reading(patient, 'glucose'))}; {with_insulin}; {bag_name(order)} gives "
        f"{number(glucose_g_day(order))} g in 24 h.",
        figures={"glucose_mmol_l": glucose, "glucose_g_l": mix.glucose_g_l},
        limits=("glucose_high_mmol_l", "glucose_crisis_mmol_l", "glucose_extreme_mmol_l"),
    )


def _glucose(patient: Snapshot) -> float | None:
    """The usable result; NotKnown without one only where diabetes makes it matter."""
    if patient.conditions.any_of(*AT_RISK):
        return patient.value("glucose")
    return patient.value_or_none("glucose")


def _level(situation: Situation, glucose: float, limits: Limits) -> Level | None:
    patient, insulin = situation.patient, insulin_runs(situation.case)
    crisis = patient.conditions.any_of(*CRISES)
    if crisis and insulin:
        return None if glucose <= limits["glucose_crisis_mmol_l"] else "warning"
    if crisis and glucose >= limits["glucose_extreme_mmol_l"]:
        return "critical"
    weak = situation.mix.glucose_g_l <= limits["weak_g_l"]
    return "info" if weak or (insulin and _is_meant(situation, limits)) else "warning"


def _is_meant(situation: Situation, limits: Limits) -> bool:
    """Beside insulin: free water for a high sodium, or the fluid that a steady infusion needs."""
    glucose = situation.patient.value("glucose")
    return water_is_treatment(situation.patient) or glucose < limits["glucose_extreme_mmol_l"]


def nutrition_in_high_glucose(case: Case, limits: Limits) -> Iterator[Finding]:
    """Nutrition with glucose while glucose is high and no insulin runs."""
    glucose = case.patient.value_or_none("glucose")
    fed = any(other.key == NUTRITION for other in case.co_infusions)
    if not fed or glucose is None or glucose <= limits["glucose_high_mmol_l"]:
        return
    if not insulin_runs(case):
        yield Finding(
            "warning",
            f"Glucose {number(glucose)} mmol/L, parenteral nutrition and no insulin by vein.",
            f"{opening(reading(case.patient, 'glucose'))}; nutrition brings glucose all day.",
            figures={"glucose_mmol_l": glucose},
            limits=("glucose_high_mmol_l",),
        )


RULES: Final = (
    Rule(
        id="glu-high",
        title="Glucose given while glucose is high",
        trigger="Glucose above 15 mmol/L and a fluid with glucose that brings more than a carrier, "
        "or nutrition without insulin: warning; critical from 20 in ketoacidosis or hyperosmolar "
        "state without insulin; info for a fluid of 1.5% or less, and beside an insulin infusion "
        "under 20 or with a high sodium.",
        unless="insulin runs in ketoacidosis or hyperosmolar state and glucose has fallen to 17 or "
        "less: glucose is then right",
        do="Change to a fluid without glucose, or start insulin by the local protocol.",
        evidence="Protocols add glucose once it is under 14 mmol/L (17 in children) while insulin "
        "clears the ketones. Above that it draws water out by the kidneys.",
        sources=(DEXTROSE_LABEL, CRISIS_GUIDES, PRACTICE),
        needs=("glucose",),
        limits=(
            Limit("glucose_high_mmol_l", 15, "mmol/L", "glucose that is high"),
            Limit("glucose_crisis_mmol_l", 17, "mmol/L", "right with insulin below", CRISIS_GUIDES),
            Limit("glucose_extreme_mmol_l", 20, "mmol/L", "glucose that is extreme", PRACTICE),
            Limit("weak_g_l", 15, "g/L", "a fluid with little glucose", PRACTICE),
        ),
        levels=("critical", "warning", "info"),
        for_order=glucose_fluid_in_high_glucose,
        for_patient=nutrition_in_high_glucose,
    ),
)
