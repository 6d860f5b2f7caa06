"""A day's water, potassium and glucose against an adult's need."""

from collections.abc import Iterator
from typing import Final

from app.cautions.cited import ADULT_FRAIL, ADULT_NEEDS, FLUID_CREEP, PRACTICE
from app.cautions.day_loads import (
    Day,
    Upkeep,
    adult_upkeep,
    is_upkeep,
    weight_for_needs,
    whole_day,
)
from app.cautions.facts import estimated_egfr
from app.cautions.phrases import amount_text, number
from app.cautions.rule import Finding, Level, Limit, Limits, Rule
from app.patient.case import Case
from app.patient.snapshot import Snapshot

FRAIL: Final = ("frailty", "heart_failure", "severe_kidney_failure")
POTASSIUM_IS_HELD: Final = (
    "hyperkalaemia", "acute_kidney_injury", "oliguria", "anuria", "dialysis",
    "severe_kidney_failure", "rhabdomyolysis", "tumour_lysis",
)  # fmt: skip
SUGAR_IS_HELD: Final = (
    "hyperglycaemia", "diabetic_ketoacidosis", "hyperosmolar_state", "brain_injury",
)  # fmt: skip


def water_total(case: Case, limits: Limits) -> Iterator[Finding]:
    """A day's water above maintenance need, counting every order, drug and flush we know."""
    upkeep = adult_upkeep(case)
    if upkeep is None or upkeep.day.water_ml <= limits["quiet_ml_day"]:
        return
    day = upkeep.day
    if day.water_ml > limits["certain_ml_day"]:
        per_kg, by_weight = None, ""
    else:
        weight, words = weight_for_needs(case.patient)
        per_kg, by_weight = day.water_ml / weight, f" ({day.water_ml / weight:.0f} mL/kg, {words})"
        if per_kg <= limits["need_ml_kg_day"]:
            return
    yield Finding(
        _water_level(upkeep, per_kg, limits),
        f"Maintenance at this rate brings {day.prefix}"
        f"{number(round(day.water_ml / 1000, 1))} L in 24 h{by_weight}.",
        f"All orders and known drug volumes give {day.prefix}{number(day.water_ml)} mL in 24 h"
        f"{by_weight}; need is 25 to 30 mL/kg.{_elsewhere(day)}{_because(upkeep)}",
        figures={"water_l_day": round(day.water_ml / 1000, 1)}
        | ({} if per_kg is None else {"water_ml_kg_day": round(per_kg, 1)}),
        limits=("need_ml_kg_day", "excess_ml_kg_day", "high_ml_day"),
        order_ids=day.order_ids,
    )


def _water_level(upkeep: Upkeep, per_kg: float | None, limits: Limits) -> Level:
    """Warning when clearly above need and nothing recorded asks for more than maintenance."""
    if per_kg is not None:
        high = upkeep.day.water_ml > limits["high_ml_day"]
        if per_kg <= limits["excess_ml_kg_day"] and not high:
            return "info"
        if upkeep.losses and per_kg <= limits["losses_ml_kg_day"]:
            return "info"
    elif upkeep.losses and upkeep.day.water_ml <= 2 * limits["certain_ml_day"]:
        return "info"
    return "warning" if upkeep.stated or upkeep.day.water_ml > limits["certain_ml_day"] else "info"


def _elsewhere(day: Day) -> str:
    if not day.elsewhere_ml:
        return ""
    return f" Drugs and other infusions bring {number(day.elsewhere_ml)} mL of it."


def _because(upkeep: Upkeep) -> str:
    return f" Recorded: {', '.join(upkeep.losses)}." if upkeep.losses else ""


def water_frail(case: Case, limits: Limits) -> Iterator[Finding]:
    """Maintenance at the upper end of need in someone who tolerates it poorly."""
    upkeep = adult_upkeep(case)
    if upkeep is None or not upkeep.stated or upkeep.losses:
        return
    because = _frail_because(case.patient, limits)
    if not because:
        return
    weight, words = weight_for_needs(case.patient)
    per_kg = upkeep.day.water_ml / weight
    if per_kg <= limits["frail_ml_kg_day"]:
        return
    yield Finding(
        "info",
        f"Maintenance {number(round(per_kg, 1))} mL/kg a day {because}.",
        f"{number(upkeep.day.water_ml)} mL in 24 h for {words}, {because}.",
        figures={"water_ml_kg_day": round(per_kg, 1)},
        limits=("frail_ml_kg_day",),
        order_ids=upkeep.day.order_ids,
    )


def _frail_because(patient: Snapshot, limits: Limits) -> str:
    held = [key for key in FRAIL if key in patient.conditions]
    if held:
        return f"with {held[0].replace('_', ' ')}"
    if patient.age_years is not None and patient.age_years >= limits["old_years"]:
        return f"at age {number(patient.age_years)}"
    egfr = estimated_egfr(patient)
    return f"with {egfr[1]}" if egfr and egfr[0] < limits["egfr_low"] else ""


def potassium_need(case: Case, limits: Limits) -> Iterator[Finding]:
    """A day's maintenance without potassium while potassium is low-normal and kidneys work."""
    upkeep = adult_upkeep(case)
    if upkeep is None or not upkeep.stated or upkeep.day.potassium_mmol > limits["trace_mmol_day"]:
        return
    patient = case.patient
    if upkeep.day.at_least or patient.conditions.any_of(*POTASSIUM_IS_HELD):
        return
    result = patient.result("potassium")
    potassium = patient.value("potassium")
    if potassium >= limits["potassium_low_normal_mmol_l"] or not _kidneys_work(patient, limits):
        return
    yield Finding(
        "info",
        f"Maintenance without potassium; last result {number(potassium)} mmol/L.",
        f"Potassium {number(potassium)} mmol/L, {patient.age_text(result)} old; the day brings "
        f"{amount_text(round(upkeep.day.potassium_mmol), 'potassium', 'mmol')}.",
        figures={"potassium_mmol_l": potassium},
        limits=("potassium_low_normal_mmol_l",),
        order_ids=upkeep.day.order_ids,
    )


def _kidneys_work(patient: Snapshot, limits: Limits) -> bool:
    """Said only when urine or filtration is known to suffice: potassium is never urged blindly."""
    egfr = estimated_egfr(patient)
    if egfr is not None:
        return egfr[0] > limits["egfr_enough"]
    weight, urine = patient.weight_kg, patient.urine_ml_h
    return weight is not None and urine is not None and urine >= limits["urine_ml_kg_h"] * weight


def glucose_need(case: Case, limits: Limits) -> Iterator[Finding]:
    """Nil by mouth on maintenance with little or no glucose."""
    conditions = case.patient.conditions
    orders = [order for order in case.orders if is_upkeep(order)]
    if not orders or "nil_by_mouth" not in conditions or conditions.any_of(*SUGAR_IS_HELD):
        return
    glucose = case.patient.value_or_none("glucose")
    day = whole_day(case)
    child = case.patient.is_child()
    enough = 0.0 if child else limits["glucose_g_day"]
    if day.glucose_g > enough or (not child and day.glucose_g == enough):
        return
    if day.at_least or (glucose is not None and glucose > limits["glucose_high_mmol_l"]):
        return
    if any(other.kind == "nutrition" for other in case.co_infusions):
        return
    yield Finding(
        "info",
        f"Nil by mouth, and the fluids bring {amount_text(round(day.glucose_g), 'glucose', 'g')} "
        "a day.",
        f"All orders together: {amount_text(round(day.glucose_g), 'glucose', 'g')} in 24 h.",
        figures={"glucose_g_day": round(day.glucose_g)},
        limits=("glucose_g_day",),
        order_ids=day.order_ids,
    )


RULES: Final = (
    Rule(
        id="ord-water-total",
        title="Daily water above maintenance need",
        trigger="An adult's maintenance with all other orders and known drug volumes comes to "
        "over 30 mL/kg a day (ideal weight from BMI 30): info; warning over 35 mL/kg or 2500 mL. "
        "Boluses, resuscitation and replacement are not counted.",
        unless="losses are recorded (then only over 60 mL/kg), or it is theatre",
        do="Compare all sources (drugs, nutrition, flushes) with need; lower the maintenance rate.",
        evidence="Over 2.5 L a day of maintenance raises the risk of hyponatraemia. Drug diluents "
        "are often a third of a critical care patient's intake. From 30 to 35 mL/kg is within "
        "the accuracy of a weight and is left quiet.",
        sources=(ADULT_NEEDS, FLUID_CREEP),
        needs=("weight_kg", "age_years"),
        limits=(
            Limit("need_ml_kg_day", 30, "mL/kg/day", "upper end of need"),
            Limit("excess_ml_kg_day", 35, "mL/kg/day", "clearly above need", PRACTICE),
            Limit("losses_ml_kg_day", 60, "mL/kg/day", "too much with losses too", PRACTICE),
            Limit("high_ml_day", 2500, "mL/day", "high when above need by weight too"),
            Limit("certain_ml_day", 4000, "mL/day", "above need at any weight", PRACTICE),
            Limit("quiet_ml_day", 1200, "mL/day", "within need from 40 kg on"),
        ),
        population="adult",
        levels=("warning", "info"),
        for_patient=water_total,
    ),
    Rule(
        id="ord-water-frail",
        title="Maintenance volume high for a frail patient",
        trigger="Maintenance over 25 mL/kg a day at 75 years or more, with frailty, heart failure "
        "or eGFR under 30.",
        unless="losses are recorded",
        do="Consider 20 to 25 mL/kg a day, and look for overload.",
        evidence="Guidance asks to consider it; no trial gives the figure.",
        sources=(ADULT_FRAIL,),
        needs=("weight_kg",),
        limits=(
            Limit("frail_ml_kg_day", 25, "mL/kg/day", "upper end for a frail patient"),
            Limit("old_years", 75, "years", "age that counts as frail"),
            Limit("egfr_low", 30, "mL/min/1.73 m²", "filtration that counts as frail"),
        ),
        population="adult",
        levels=("info",),
        for_patient=water_frail,
    ),
    Rule(
        id="ord-potassium-need",
        title="Maintenance without potassium",
        trigger="An adult's stated maintenance brings at most 5 mmol potassium a day, plasma "
        "potassium is under 4 mmol/L, and filtration over 30 or urine of 0.5 mL/kg/h is known.",
        unless="potassium is given another way",
        do="Consider about 1 mmol/kg potassium a day.",
        evidence="Too little potassium was found in three of four maintenance orders audited; "
        "it is never urged where the kidneys are not known to work.",
        sources=(ADULT_NEEDS,),
        needs=("potassium",),
        limits=(
            Limit("potassium_low_normal_mmol_l", 4, "mmol/L", "low-normal plasma potassium"),
            Limit("trace_mmol_day", 5, "mmol/day", "as good as none"),
            Limit("egfr_enough", 30, "mL/min/1.73 m²", "kidneys that excrete potassium"),
            Limit("urine_ml_kg_h", 0.5, "mL/kg/h", "urine that excretes potassium"),
        ),
        population="adult",
        levels=("info",),
        for_patient=potassium_need,
    ),
    Rule(
        id="ord-glucose-need",
        title="Fasting maintenance without glucose",
        trigger="Nil by mouth with maintenance, and under 50 g glucose a day in an adult or none "
        "in a child.",
        unless="nutrition runs, glucose is high, or glucose is avoided for the brain",
        do="Consider 50 to 100 g glucose a day in an adult; check a child's blood glucose.",
        evidence="It limits ketosis and does not meet the need for nutrition.",
        sources=(ADULT_NEEDS,),
        needs=("age_years",),
        limits=(
            Limit("glucose_g_day", 50, "g/day", "least that limits ketosis"),
            Limit("glucose_high_mmol_l", 10, "mmol/L", "glucose already high", PRACTICE),
        ),
        levels=("info",),
        for_patient=glucose_need,
    ),
)
