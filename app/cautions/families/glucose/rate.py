"""Glucose against what a body burns, in adults and in newborns."""

from collections.abc import Iterator
from typing import Final

from app.catalogue.source import Source
from app.cautions.cited import PRACTICE
from app.cautions.phrases import bag_name, listed, number, opening, reading_or_lack
from app.cautions.rule import Finding, Level, Limit, Limits, Rule
from app.cautions.shared.fluid_facts import child, newborn
from app.cautions.shared.glucose_given import glucose_orders, mg_kg_min, nutrition_mg_kg_min
from app.patient.case import Case
from app.patient.known import NotKnown, known
from app.patient.snapshot import Snapshot

ESPEN_ICU: Final = Source("ESPEN guideline on nutrition in intensive care, 2019, 2023", seen=False)
CARBOHYDRATES_2018: Final = Source("ESPGHAN/ESPEN 2018, carbohydrates", seen=False)
LIGHT_ADULT_KG: Final = 40.0


def too_fast_for_an_adult(case: Case, limits: Limits) -> Iterator[Finding]:
    """Glucose of all orders above what an adult burns."""
    patient = case.patient
    if not glucose_orders(case) or child(patient):
        return
    most = limits["icu_mg_kg_min" if patient.setting == "ICU" else "adult_mg_kg_min"]
    if patient.weight_kg is None:
        if mg_kg_min(case, LIGHT_ADULT_KG) > most and patient.is_adult():
            raise NotKnown("weight_kg", "missing", "glucose is judged by weight")
        return
    rate = mg_kg_min(case, patient.weight_kg)
    if rate <= most:
        return
    glucose = patient.value_or_none("glucose")
    low = glucose is not None and glucose < limits["glucose_low_mmol_l"]
    yield Finding(
        "info" if low else "warning",
        f"Glucose {number(rate)} mg/kg/min in an adult; at most {number(most)} can be burnt.",
        _why(case, patient.weight_kg),
        figures={"glucose_mg_kg_min": rate},
        limits=("adult_mg_kg_min", "icu_mg_kg_min"),
        order_ids=tuple(order.id for order in glucose_orders(case)),
    )


def _why(case: Case, weight_kg: float) -> str:
    orders = glucose_orders(case)
    parts = tuple(f"{bag_name(order)} at {number(order.rate_ml_h or 0)} mL/h" for order in orders)
    nutrition = any(other.kind == "nutrition" for other in case.co_infusions)
    told = nutrition_mg_kg_min(case, weight_kg)
    besides = f" Nutrition brings {number(told)} of it." if told else " Nutrition is not counted."
    return (
        f"{opening(listed(parts))}, {number(weight_kg)} kg; "
        f"{reading_or_lack(case.patient, 'glucose')}." + (besides if nutrition else "")
    )


def newborn_rate(case: Case, limits: Limits) -> Iterator[Finding]:
    """Glucose of a newborn's orders outside what it needs and burns."""
    patient = case.patient
    if not newborn(patient) or not glucose_orders(case):
        return
    weight = known(patient.weight_kg, "weight_kg")
    rate = mg_kg_min(case, weight, as_labelled=True)
    level = _newborn_level(case, rate, limits)
    if level is None:
        return
    low = rate < limits["newborn_least_mg_kg_min"]
    side = "too little" if low else "more than it burns"
    yield Finding(
        level,
        f"Newborn on glucose {number(rate)} mg/kg/min: {side}; "
        f"{number(limits['newborn_least_mg_kg_min'])} to "
        f"{number(limits['newborn_most_mg_kg_min'])} is usual.",
        _why(case, weight),
        figures={"glucose_mg_kg_min": rate},
        limits=("newborn_least_mg_kg_min", "newborn_most_mg_kg_min"),
        order_ids=tuple(order.id for order in glucose_orders(case)),
        do="Raise the rate or the strength, and measure glucose now." if low else "",
    )


def _newborn_level(case: Case, rate: float, limits: Limits) -> Level | None:
    glucose = case.patient.value_or_none("glucose")
    if rate < limits["newborn_least_mg_kg_min"]:
        if _fed_otherwise(case) or _high_enough(case.patient, limits):
            return None
        low = glucose is not None and glucose < limits["newborn_glucose_low_mmol_l"]
        return "critical" if low else "warning"
    if rate <= limits["newborn_most_mg_kg_min"]:
        return None
    needed = "hypoglycaemia" in case.patient.conditions or (
        glucose is not None and glucose < limits["glucose_low_mmol_l"]
    )
    return "info" if needed else "warning"


def _fed_otherwise(case: Case) -> bool:
    nutrition = any(other.kind == "nutrition" for other in case.co_infusions)
    carriers = all(order.purpose == "carrier" for order in glucose_orders(case))
    return nutrition or carriers or "drinking" in case.patient.conditions


def _high_enough(patient: Snapshot, limits: Limits) -> bool:
    glucose = patient.value_or_none("glucose")
    return glucose is not None and glucose >= limits["newborn_glucose_high_mmol_l"]


RULES: Final = (
    Rule(
        id="glu-rate-adult",
        title="Glucose faster than an adult burns it",
        trigger="Glucose of all orders that run on above 5 mg/kg/min in an adult, or 4 in "
        "intensive care; info while glucose is under 4 mmol/L.",
        unless="it is a rescue dose within an hour",
        do="Lower the rate or the strength, and check glucose.",
        evidence="What is not burnt becomes fat and carbon dioxide, and raises glucose. Counted as "
        "anhydrous glucose; what nutrition brings is not in it.",
        sources=(ESPEN_ICU, PRACTICE),
        needs=("weight_kg",),
        limits=(
            Limit("adult_mg_kg_min", 5, "mg/kg/min", "most in an adult"),
            Limit("icu_mg_kg_min", 4, "mg/kg/min", "most in intensive care"),
            Limit("glucose_low_mmol_l", 4, "mmol/L", "glucose that is low", PRACTICE),
        ),
        population="adult",
        levels=("warning", "info"),
        for_patient=too_fast_for_an_adult,
    ),
    Rule(
        id="glu-rate-neo",
        title="Newborn's glucose rate outside its range",
        trigger="To 28 days of age, glucose of all orders that run on under 4 or above 12 "
        "mg/kg/min: warning; critical under 4 with glucose under 2.6 mmol/L; above 12 info while "
        "glucose is low.",
        unless="feeds or nutrition are given besides, the orders are carriers, or glucose is 8 "
        "mmol/L or more, for the lower limit; no glucose at all is spoken of by neo-na",
        do="Lower the strength or the rate, and measure glucose within the hour.",
        evidence="A newborn's liver makes 4 to 8 mg/kg/min. Counted by the label's grams, as wards "
        "do: 60 mL/kg/day of 10% is 4.2.",
        sources=(CARBOHYDRATES_2018, PRACTICE),
        needs=("weight_kg",),
        limits=(
            Limit("newborn_least_mg_kg_min", 4, "mg/kg/min", "least that a newborn needs"),
            Limit("newborn_most_mg_kg_min", 12, "mg/kg/min", "most that a newborn burns"),
            Limit("newborn_glucose_low_mmol_l", 2.6, "mmol/L", "low in a newborn", PRACTICE),
            Limit("newborn_glucose_high_mmol_l", 8, "mmol/L", "enough in a newborn", PRACTICE),
            Limit("glucose_low_mmol_l", 4, "mmol/L", "glucose that needs more", PRACTICE),
        ),
        population="neonate",
        levels=("critical", "warning", "info"),
        for_patient=newborn_rate,
    ),
)
