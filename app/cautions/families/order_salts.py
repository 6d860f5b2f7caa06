"""A day's sodium and chloride against an adult's need."""

from collections.abc import Iterator
from typing import Final

from app.catalogue.fluid import ML_PER_L
from app.catalogue.source import Source
from app.cautions.cited import ADULT_NEEDS, PRACTICE
from app.cautions.day_loads import (
    adult_upkeep,
    documented_losses,
    litres_in_day,
    weight_for_needs,
    whole_day,
)
from app.cautions.phrases import number
from app.cautions.rule import Finding, Limit, Limits, Rule
from app.patient.case import Case
from app.patient.order import Order

BRAIN_OR_CHLORIDE_LOSS: Final = (
    "brain_injury", "raised_intracranial_pressure", "metabolic_alkalosis", "pyloric_stenosis",
    "vomiting", "gastric_losses",
)  # fmt: skip
SALT_IS_MEANT: Final = (
    "brain_injury", "hyponatraemia", "metabolic_alkalosis", "siadh", "cardiac_arrest",
)  # fmt: skip
SALT_IS_HELD: Final = (
    "heart_failure", "cirrhosis", "fluid_overload", "pulmonary_oedema", "oedema_signs",
    "ascites",
)  # fmt: skip
HELD_WORDS: Final = {"oedema_signs": "oedema"}
# Saline by the litre is usual here: the load is told, not called out.
SALINE_IS_USUAL: Final = (
    "diabetic_ketoacidosis", "hyperosmolar_state", "rhabdomyolysis", "hypercalcaemia",
    "tumour_lysis", "adrenal_crisis", "hyponatraemia",
)  # fmt: skip
BALANCE_TRIALS: Final = (
    Source("SMART, NEJM 2018;378:829", "", seen=False),
    Source("BaSICS, JAMA 2021;326:818; PLUS, NEJM 2022;386:815", "", seen=False),
    Source("BEST-Living, Lancet Respir Med 2024;12:237", "abstract", seen=True),
)


def sodium_total(case: Case, limits: Limits) -> Iterator[Finding]:
    """A day's sodium far above need in maintenance, hidden sodium counted."""
    upkeep = adult_upkeep(case)
    if upkeep is None or upkeep.losses or case.patient.conditions.any_of(*SALT_IS_MEANT):
        return
    if upkeep.day.sodium_mmol <= limits["quiet_mmol_day"]:
        return
    weight, words = weight_for_needs(case.patient)
    per_kg = upkeep.day.sodium_mmol / weight
    if per_kg <= limits["need_mmol_kg_day"]:
        return
    held = [key for key in SALT_IS_HELD if key in case.patient.conditions]
    limit = "held_mmol_kg_day" if held else "far_above_mmol_kg_day"
    loud = upkeep.stated and per_kg > limits[limit]
    because = f" with {HELD_WORDS.get(held[0], held[0].replace('_', ' '))}" if held else ""
    yield Finding(
        "warning" if loud else "info",
        f"Sodium {upkeep.day.prefix}{number(upkeep.day.sodium_mmol)} mmol in 24 h "
        f"({number(round(per_kg, 1))} mmol/kg){because}; need is about 1 mmol/kg.",
        f"All orders and known diluents give {number(upkeep.day.sodium_mmol)} mmol of sodium for "
        f"{words}.",
        figures={"sodium_mmol_day": round(upkeep.day.sodium_mmol), "per_kg": round(per_kg, 1)},
        limits=("need_mmol_kg_day", limit),
        order_ids=upkeep.day.order_ids,
    )


def chloride_total(case: Case, limits: Limits) -> Iterator[Finding]:
    """A large chloride load, or a chloride-rich fluid when plasma chloride is already high."""
    patient = case.patient
    if patient.conditions.any_of(*BRAIN_OR_CHLORIDE_LOSS) or not patient.is_adult():
        return
    rich = [order for order in case.orders if _is_rich(order, limits)]
    rich_ml = sum((litres_in_day(order, case) or 0) * ML_PER_L for order in rich)
    if not rich or rich_ml < limits["little_ml"]:
        return
    plasma = patient.value_or_none("chloride")
    ids = tuple(order.id for order in rich)
    if plasma is not None and plasma > limits["plasma_high_mmol_l"]:
        result = patient.result("chloride")
        yield Finding(
            "warning",
            f"Plasma chloride {number(plasma)} mmol/L, and {number(rich_ml)} mL of "
            "chloride-rich fluid.",
            f"Chloride {number(plasma)} mmol/L, {patient.age_text(result)} old; the fluid holds "
            f"{max(_chloride(order) for order in rich):.0f} mmol/L.",
            figures={"chloride_mmol_l": plasma, "rich_fluid_ml": round(rich_ml)},
            limits=("plasma_high_mmol_l", "rich_mmol_l"),
            order_ids=ids,
        )
        return
    if plasma is not None and plasma < limits["plasma_low_mmol_l"]:
        return
    yield from _large_load(case, ids, limits)


def _large_load(case: Case, ids: tuple[str, ...], limits: Limits) -> Iterator[Finding]:
    day = whole_day(case, lambda _order: True)
    weight, words = weight_for_needs(case.patient)
    per_kg = day.chloride_mmol / weight
    if per_kg <= limits["load_mmol_kg_day"]:
        return
    plasma = case.patient.value_or_none("chloride")
    known_right = plasma is not None and plasma <= limits["plasma_upper_mmol_l"]
    usual = case.patient.conditions.any_of(*SALINE_IS_USUAL) or (
        known_right and bool(documented_losses(case.patient))
    )
    loud = per_kg > limits["large_load_mmol_kg_day"] and not usual
    yield Finding(
        "warning" if loud else "info",
        f"Chloride {day.prefix}{number(day.chloride_mmol)} mmol in 24 h "
        f"({number(round(per_kg, 1))} mmol/kg).",
        f"All orders give {number(day.chloride_mmol)} mmol chloride for {words}; "
        "need is about 1 mmol/kg.",
        figures={"chloride_mmol_day": round(day.chloride_mmol), "per_kg": round(per_kg, 1)},
        limits=("load_mmol_kg_day", "large_load_mmol_kg_day"),
        order_ids=ids,
    )


def _chloride(order: Order) -> float:
    return (order.mix.chloride_mmol_l or 0.0) if order.mix else 0.0


def _is_rich(order: Order, limits: Limits) -> bool:
    """Chloride-rich, and neither a small correcting dose nor hypertonic on purpose."""
    if order.purpose == "correction" or (
        order.fluid and order.fluid.tonicity_class == "hypertonic"
    ):
        return False
    return _chloride(order) >= limits["rich_mmol_l"]


RULES: Final = (
    Rule(
        id="ord-sodium-total",
        title="Daily sodium far above need",
        trigger="Maintenance in an adult brings over 2 mmol/kg sodium a day: info; warning over "
        "5.5 mmol/kg, or over 3 where salt is held (heart failure, cirrhosis, overload, oedema).",
        unless="losses, brain injury, low sodium or alkalosis are recorded",
        do="Look for hidden sodium (flushes, diluents, bicarbonate); consider less sodium.",
        evidence="Need is about 1 mmol/kg. Isotonic maintenance gives 3 to 4.6 by nature and "
        "protects from hyponatraemia, so only more than 30 mL/kg of 0.9% saline brings is loud.",
        sources=(ADULT_NEEDS, PRACTICE),
        needs=("weight_kg",),
        limits=(
            Limit("need_mmol_kg_day", 2, "mmol/kg/day", "twice the need"),
            Limit("held_mmol_kg_day", 3, "mmol/kg/day", "far above where salt is held", PRACTICE),
            Limit("far_above_mmol_kg_day", 5.5, "mmol/kg/day", "beyond isotonic need", PRACTICE),
            Limit("quiet_mmol_day", 80, "mmol/day", "within 2 mmol/kg from 40 kg on"),
        ),
        population="adult",
        levels=("warning", "info"),
        for_patient=sodium_total,
    ),
    Rule(
        id="ord-chloride-total",
        title="Large chloride load",
        trigger="Adult: plasma chloride over 110 mmol/L and at least 500 mL a day of fluid with "
        "150 mmol/L chloride or more; or over 3 mmol/kg chloride a day (info; warning over 6).",
        unless="brain injury, vomiting, gastric losses, alkalosis or low chloride; where saline by "
        "the litre is usual (ketoacidosis, rhabdomyolysis, high calcium), or losses are replaced "
        "at a plasma chloride of at most 106 mmol/L, the load is info",
        do="Consider a fluid with chloride nearer plasma.",
        evidence="Acidosis and high chloride are certain; harm in outcome was small or absent in "
        "two large trials and favoured balanced fluid in one.",
        sources=BALANCE_TRIALS,
        needs=("weight_kg",),
        limits=(
            Limit("plasma_high_mmol_l", 110, "mmol/L", "high plasma chloride", PRACTICE),
            Limit("plasma_upper_mmol_l", 106, "mmol/L", "upper end of the usual", PRACTICE),
            Limit("plasma_low_mmol_l", 98, "mmol/L", "chloride is lacking", PRACTICE),
            Limit("rich_mmol_l", 150, "mmol/L", "chloride-rich fluid", PRACTICE),
            Limit("little_ml", 500, "mL", "too little to matter", PRACTICE),
            Limit("load_mmol_kg_day", 3, "mmol/kg/day", "three times need", PRACTICE),
            Limit("large_load_mmol_kg_day", 6, "mmol/kg/day", "large load", PRACTICE),
        ),
        population="adult",
        levels=("warning", "info"),
        for_patient=chloride_total,
    ),
)
