"""Desmopressin keeps whatever water is given."""

from collections.abc import Iterator
from typing import Final

from app.catalogue.source import Source
from app.cautions.cited import PRACTICE
from app.cautions.day_loads import whole_day
from app.cautions.phrases import amount_text, number, reading_or_lack
from app.cautions.rule import Finding, Limit, Limits, Rule
from app.cautions.shared.flow import is_fast
from app.cautions.shared.fluid_facts import (
    glucose_with_insulin,
    is_hypotonic,
    is_relowering,
    is_small,
    litres_a_day,
    on_drug,
)
from app.patient.case import Case, Situation
from app.patient.known import known
from app.patient.order import Order

LABEL: Final = Source("US desmopressin label", "warnings, hyponatraemia", seen=False)
UK_TEXT: Final = Source("UK summary of product characteristics, desmopressin", "4.4", seen=False)
ML_PER_L: Final = 1000.0


def water_with_desmopressin(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """Hypotonic fluid while desmopressin works."""
    order, patient = situation.order, situation.patient
    if not on_drug(situation.case, "desmopressin") or not is_hypotonic(situation.mix):
        return
    if is_small(order, patient, limits["small_ml_day"]) or _is_meant(situation):
        return
    insipidus = "diabetes_insipidus" in patient.conditions
    sodium = patient.value("sodium") if insipidus else patient.value_or_none("sodium")
    if "hypernatraemia" in patient.conditions:
        return
    if sodium is not None and sodium > limits["sodium_high_mmol_l"]:
        return
    volume = litres_a_day(order) * ML_PER_L
    told = sodium is not None and sodium < limits["sodium_low_mmol_l"]
    yield Finding(
        "info" if told else "warning",
        f"Desmopressin and {number(volume)} mL of hypotonic fluid in 24 h: all the water is kept.",
        f"{number(volume)} mL with "
        f"{amount_text(situation.mix.cation_salt_mmol_l, 'sodium and potassium')}; "
        f"{reading_or_lack(patient, 'sodium')}.",
        figures={"hypotonic_ml_day": volume},
        limits=("small_ml_day", "sodium_high_mmol_l", "sodium_low_mmol_l"),
    )


def _is_meant(situation: Situation) -> bool:
    return is_relowering(situation) or glucose_with_insulin(situation)


def much_with_desmopressin(case: Case, limits: Limits) -> Iterator[Finding]:
    """Any large volume by drip while desmopressin works."""
    patient = case.patient
    if not on_drug(case, "desmopressin") or not case.orders:
        return
    if patient.conditions.any_of("diabetes_insipidus", "hypernatraemia"):
        return
    if any(is_relowering(Situation(case, order)) for order in case.orders):
        return
    day = whole_day(case, _counts)
    if day.water_ml <= limits["quiet_ml_day"]:
        return
    per_kg = day.water_ml / known(patient.weight_kg, "weight_kg")
    if per_kg <= limits["much_ml_kg_day"]:
        return
    yield Finding(
        "warning",
        f"Desmopressin and {day.prefix}{number(day.water_ml)} mL by drip in 24 h "
        f"({number(round(per_kg))} mL/kg): the water is kept.",
        f"All that goes on {day.prefix}{number(day.water_ml)} mL in 24 h; "
        f"{reading_or_lack(patient, 'sodium')}.",
        figures={"water_ml_day": day.water_ml},
        limits=("much_ml_kg_day", "quiet_ml_day"),
        order_ids=day.order_ids,
    )


def _counts(order: Order) -> bool:
    return not is_fast(order)


RULES: Final = (
    Rule(
        id="des-water",
        title="Water with desmopressin",
        trigger="Desmopressin and hypotonic fluid over 500 mL in 24 h (info under 135 mmol/L, "
        "where na-hypotonic-low speaks), or over 35 mL/kg by drip of any fluid in 24 h.",
        unless="sodium is above 145 mmol/L, water lowers an overshoot on purpose, or diabetes "
        "insipidus (for the volume)",
        do="Use isotonic fluid, as little as needed; sodium within 6 h and each day.",
        evidence="The kidney cannot pass water while desmopressin works, six hours to a day.",
        sources=(LABEL, UK_TEXT),
        needs=("sodium", "weight_kg"),
        limits=(
            Limit("small_ml_day", 500, "mL/24 h", "a volume too small to matter", PRACTICE),
            Limit("sodium_high_mmol_l", 145, "mmol/L", "sodium that needs water"),
            Limit("sodium_low_mmol_l", 135, "mmol/L", "sodium of which na-hypotonic-low speaks"),
            Limit("much_ml_kg_day", 35, "mL/kg/24 h", "more than maintenance", PRACTICE),
            Limit("quiet_ml_day", 300, "mL/24 h", "never much", PRACTICE),
        ),
        levels=("warning", "info"),
        for_order=water_with_desmopressin,
        for_patient=much_with_desmopressin,
    ),
)
