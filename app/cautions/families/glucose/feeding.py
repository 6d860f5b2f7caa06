"""Glucose to the starved and to those who drink: thiamine and phosphate first."""

from collections.abc import Iterator
from typing import Final

from app.catalogue.source import Source
from app.cautions.cited import PRACTICE
from app.cautions.phrases import listed, number, opening, reading, reading_or_lack
from app.cautions.rule import Finding, Limit, Limits, Rule
from app.cautions.shared.fluid_facts import child, newborn, on_drug
from app.cautions.shared.glucose_given import brings_little_glucose, glucose_g_day
from app.patient.case import Case
from app.patient.order import Order
from app.patient.snapshot import Snapshot

NICE_ALCOHOL: Final = Source("NICE CG100, Alcohol-use disorders", seen=False)
NICE_NUTRITION: Final = Source("NICE CG32, Nutrition support in adults", seen=False)
THIAMINE_LACKS: Final = ("alcohol_dependence", "malnutrition", "refeeding_risk")
STARVED: Final = ("refeeding_risk", "malnutrition")
NUTRITION: Final = "parenteral_nutrition"
NUTRITION_G_DAY: Final = 150.0
CM_PER_M: Final = 100.0


def _glucose_orders(case: Case) -> tuple[Order, ...]:
    return tuple(
        order
        for order in case.orders
        if order.mix is not None
        and order.mix.glucose_g_l > 0
        and not brings_little_glucose(order, case.patient)
    )


def glucose_before_thiamine(case: Case, _: Limits) -> Iterator[Finding]:
    """A glucose fluid and no thiamine, where thiamine is likely to lack."""
    orders, patient = _glucose_orders(case), case.patient
    reasons = [key for key in THIAMINE_LACKS if key in patient.conditions]
    if not orders or not reasons or child(patient) or _thiamine(case):
        return
    reason = reasons[0].replace("_", " ")
    yield Finding(
        "info",
        f"Glucose and {reason}, and no thiamine is charted: give it with or before.",
        f"{opening(reason)} recorded; thiamine is neither among the drugs nor in a bag. A low "
        f"glucose is treated at once all the same; {reading_or_lack(patient, 'glucose')}.",
        figures={"because": reason},
        order_ids=tuple(order.id for order in orders),
    )


def _thiamine(case: Case) -> bool:
    in_bag = any(a.substance == "thiamine" for order in case.orders for a in order.additives)
    return in_bag or on_drug(case, "thiamine")


def glucose_in_refeeding_risk(case: Case, limits: Limits) -> Iterator[Finding]:
    """Much glucose to a starved patient whose potassium, magnesium or phosphate is low."""
    patient = case.patient
    risk = _risk(patient, limits)
    fed = any(other.key == NUTRITION for other in case.co_infusions)
    grams = sum(map(glucose_g_day, case.orders)) + (NUTRITION_G_DAY if fed else 0.0)
    if not risk or newborn(patient) or grams <= limits["glucose_g_day"]:
        return
    low = _low_salts(patient, limits)
    if not low:
        patient.value("phosphate")
        return
    amount = "nutrition" if fed else f"{number(grams)} g of glucose in 24 h"
    yield Finding(
        "warning",
        f"Refeeding risk and {amount}, with {low[0]}.",
        f"{opening(risk)}; {listed(low)}. Insulin drives what is left into cells.",
        figures={"low": low[0]},
        limits=("phosphate_low_mmol_l", "potassium_low_mmol_l", "magnesium_low_mmol_l"),
        order_ids=tuple(order.id for order in _glucose_orders(case)),
    )


def _risk(patient: Snapshot, limits: Limits) -> str:
    """What says that the patient is starved, empty when nothing does."""
    recorded = next((key for key in STARVED if key in patient.conditions), "")
    if recorded:
        return f"{recorded.replace('_', ' ')} recorded"
    if patient.weight_kg is None or patient.height_cm is None or child(patient):
        return ""
    bmi = patient.weight_kg / (patient.height_cm / CM_PER_M) ** 2
    return f"body mass index {number(bmi)} kg/m²" if bmi < limits["bmi_kg_m2"] else ""


def _low_salts(patient: Snapshot, limits: Limits) -> tuple[str, ...]:
    names = ("phosphate", "potassium", "magnesium")
    values = {name: patient.value_or_none(name) for name in names}
    return tuple(
        reading(patient, name)
        for name, value in values.items()
        if value is not None and value < limits[f"{name}_low_mmol_l"]
    )


RULES: Final = (
    Rule(
        id="glu-wernicke",
        title="Glucose before thiamine",
        trigger="An adult with alcohol dependence, malnutrition or refeeding risk, a glucose fluid "
        "that brings more than a carrier, and no thiamine charted or in a bag.",
        unless="thiamine is given; a low glucose is treated at once, with thiamine beside it",
        do="Give thiamine by vein with the glucose or before it.",
        evidence="Glucose uses up what thiamine is left; the order matters less than giving it at "
        "all.",
        sources=(NICE_ALCOHOL, NICE_NUTRITION),
        population="adult",
        levels=("info",),
        for_patient=glucose_before_thiamine,
    ),
    Rule(
        id="glu-refeed",
        title="Glucose in refeeding risk",
        trigger="Refeeding risk or malnutrition recorded, or a body mass index under 16 kg/m² in "
        "an adult; more than 100 g of glucose in 24 h or nutrition; and phosphate under 0.8, "
        "potassium under 3.5 or magnesium under 0.7 mmol/L.",
        unless="all three are normal",
        do="Replace what is low, start glucose low, and measure all three twice a day.",
        evidence="Guidance asks for 5 to 10 kcal/kg/day at first, and thiamine beside it.",
        sources=(NICE_NUTRITION, PRACTICE),
        needs=("phosphate",),
        limits=(
            Limit("bmi_kg_m2", 16, "kg/m²", "body mass index of the starved"),
            Limit("glucose_g_day", 100, "g/24 h", "glucose that matters"),
            Limit("phosphate_low_mmol_l", 0.8, "mmol/L", "phosphate that is low", PRACTICE),
            Limit("potassium_low_mmol_l", 3.5, "mmol/L", "potassium that is low", PRACTICE),
            Limit("magnesium_low_mmol_l", 0.7, "mmol/L", "magnesium that is low", PRACTICE),
        ),
        levels=("warning",),
        for_patient=glucose_in_refeeding_risk,
    ),
)
