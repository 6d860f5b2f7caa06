"""Isotonic saline where the kidney keeps its water and passes its salt."""

from collections.abc import Iterator
from typing import Final

from app.catalogue.source import Source
from app.cautions.cited import PRACTICE
from app.cautions.phrases import number, opening, reading
from app.cautions.rule import Finding, Limit, Limits, Rule
from app.cautions.shared.fluid_facts import (
    HYPERTONIC_SODIUM_MMOL_L,
    is_hypotonic,
    is_small,
    on_drug,
)
from app.patient.case import Situation

EUROPE_2014: Final = Source("Spasovski et al., Eur J Endocrinol 2014;170:G1", seen=False)
DRY: Final = (
    "hypovolaemia",
    "dehydration",
    "shock",
    "septic_shock",
    "haemorrhage",
    "adrenal_crisis",
)


def saline_in_siadh(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """Isotonic fluid in SIADH with a concentrated urine: the water is kept, the salt passed."""
    order, patient, mix = situation.order, situation.patient, situation.mix
    if "siadh" not in patient.conditions or patient.conditions.any_of(*DRY) or order.is_bolus:
        return
    if is_hypotonic(mix) or not 0 < mix.sodium_mmol_l <= HYPERTONIC_SODIUM_MMOL_L:
        return
    if is_small(order, patient, limits["small_ml_day"]) or on_drug(situation.case, "loop_diuretic"):
        return
    sodium = patient.value("sodium")
    if sodium >= limits["sodium_low_mmol_l"]:
        return
    urine = patient.value("urine_osmolality")
    if urine <= limits["urine_osmolality_mosm_kg"]:
        return
    yield Finding(
        "warning",
        f"SIADH, urine {number(urine)} mosm/kg: this fluid can lower a sodium of {number(sodium)} "
        "mmol/L further.",
        f"{opening(reading(patient, 'sodium'))}; {reading(patient, 'urine_osmolality')}; the "
        f"fluid holds {number(mix.cation_salt_mmol_l)} mmol/L of sodium and potassium.",
        figures={"urine_osmolality_mosm_kg": urine, "sodium_mmol_l": sodium},
        limits=("urine_osmolality_mosm_kg", "sodium_low_mmol_l", "small_ml_day"),
    )


RULES: Final = (
    Rule(
        id="na-siadh-saline",
        title="Isotonic fluid in SIADH",
        trigger="SIADH, sodium under 130 mmol/L, urine osmolality above 500 mosm/kg and an "
        "isotonic fluid over 500 mL in 24 h.",
        unless="the patient is dry or in shock, it is a bolus, or a loop diuretic is given with it",
        do="Restrict water, or ask a specialist about 3% saline; sodium in 4 to 6 h.",
        evidence="The kidney passes the salt in less water than it came in and keeps the rest.",
        sources=(EUROPE_2014, PRACTICE),
        needs=("sodium", "urine_osmolality"),
        limits=(
            Limit("sodium_low_mmol_l", 130, "mmol/L", "sodium that is low"),
            Limit("urine_osmolality_mosm_kg", 500, "mosm/kg", "urine that is concentrated"),
            Limit("small_ml_day", 500, "mL/24 h", "a volume too small to matter", PRACTICE),
        ),
        levels=("warning",),
        for_order=saline_in_siadh,
    ),
)
