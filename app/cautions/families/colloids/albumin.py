"""Albumin: never in water, and strong albumin slowly where volume is not lacking."""

from collections.abc import Iterator
from typing import Final

from app.catalogue.source import Source
from app.cautions.cited import PRACTICE
from app.cautions.phrases import number
from app.cautions.rule import Finding, Limit, Limits, Rule
from app.cautions.shared.flow import is_fast, lacks_volume, recorded
from app.cautions.shared.fluid_facts import child, mentions
from app.patient.case import Case, Situation
from app.patient.known import known
from app.patient.order import Order
from app.patient.snapshot import Snapshot

LABEL: Final = Source("US albumin 25% label", "dosage and warnings", seen=True)
WATER_TEXTS: Final = Source("US albumin labels; MMWR 1999;48:157", "haemolysis", seen=True)
WATER_WORDS: Final = ("sterile water", "water for injection", "wfi", "swfi", "distilled water")
# Strong albumin given on purpose for volume.
VOLUME_IS_MEANT: Final = (
    "spontaneous_bacterial_peritonitis", "paracentesis", "sepsis", "hepatorenal_syndrome",
)  # fmt: skip
WET: Final = ("pulmonary_oedema", "heart_failure", "cardiogenic_shock")


def albumin_in_water(case: Case, limits: Limits) -> Iterator[Finding]:
    """Albumin thinned with plain water, in the bag or as a drug's diluent."""
    for order in case.orders:
        if _is_albumin_in_water(order):
            yield _bursting(order.written, (order.id,))
    for other in case.co_infusions:
        if other.key != "albumin" or other.carried_by or other.diluent is None:
            continue
        if other.diluent.composition.cation_salt_mmol_l <= limits["salt_none_mmol_l"] and not (
            other.diluent.composition.glucose_g_l
        ):
            yield _bursting(other.name, ())


def _is_albumin_in_water(order: Order) -> bool:
    text = " ".join((order.written, *(a.substance + " " + a.as_written for a in order.additives)))
    text = text.lower()
    holds = order.mix is not None and order.mix.albumin_g_l > 0
    return (holds or "albumin" in text) and any(word in text for word in WATER_WORDS)


def _bursting(written: str, order_ids: tuple[str, ...]) -> Finding:
    return Finding(
        "critical",
        "Albumin diluted with sterile water: the mixture bursts red cells.",
        f"As written: “{written}”. 25% albumin in four parts of water holds about 30 mmol/L of "
        "salt.",
        figures={"diluent": "sterile water"},
        order_ids=order_ids,
    )


def strong_albumin_fast(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """Albumin that draws in water, faster than the circulation can take it."""
    order, patient, mix = situation.order, situation.patient, situation.mix
    if mix.albumin_g_l < limits["strong_g_l"]:
        return
    wet = recorded(patient, WET)
    if not wet and _volume_is_meant(order, patient):
        return
    rate = known(order.rate_ml_h, "rate_ml_h")
    name, limit = _limit(patient, bool(wet), limits)
    if rate <= limit:
        return
    because = f" with {wet[0]}" if wet else ""
    yield Finding(
        "warning",
        f"{number(mix.albumin_g_l / 10)}% albumin at {number(rate)} mL/h{because}; at most "
        f"{number(limit)} mL/h draws water in slowly enough.",
        f"{number(rate)} mL/h of {number(mix.albumin_g_l)} g/L albumin{because}; each 100 mL draws "
        "in about 300 mL.",
        figures={"rate_ml_h": rate, "albumin_g_l": mix.albumin_g_l},
        limits=("strong_g_l", name),
    )


def _volume_is_meant(order: Order, patient: Snapshot) -> bool:
    if is_fast(order) or mentions(order, "paracentes", "ascit", "peritonitis", "hepatorenal"):
        return True
    return lacks_volume(patient) or patient.conditions.any_of(*VOLUME_IS_MEANT)


def _limit(patient: Snapshot, wet: bool, limits: Limits) -> tuple[str, float]:
    if child(patient):
        name = "child_ml_kg_h"
        return name, limits[name] * known(patient.weight_kg, "weight_kg")
    name = "wet_ml_h" if wet else "adult_ml_h"
    return name, limits[name]


RULES: Final = (
    Rule(
        id="alb-water",
        title="Albumin diluted with water",
        trigger="Albumin with sterile water in the same bag, or as its diluent.",
        unless="the mixture was made isotonic in pharmacy",
        do="Discard it; dilute only with 0.9% sodium chloride, or 5% glucose where sodium is to be "
        "spared.",
        evidence="Deaths by haemolysis and kidney failure were reported.",
        sources=(WATER_TEXTS,),
        limits=(Limit("salt_none_mmol_l", 0, "mmol/L", "salt in a diluent that counts as none"),),
        levels=("critical",),
        for_patient=albumin_in_water,
    ),
    Rule(
        id="alb-fast",
        title="Strong albumin fast",
        trigger="Albumin of 20% or more above 120 mL/h in an adult (60 with heart failure or "
        "pulmonary oedema), or above 2.5 mL/kg/h in a child.",
        unless="volume is lacking (bleeding, shock, sepsis, burns), or it is given for "
        "spontaneous bacterial peritonitis, hepatorenal syndrome or after paracentesis",
        do="Slow it to 60 mL/h or less; watch breathing and pressure.",
        evidence="The label gives 1 mL/min in normal volume and 2 mL/min in low protein.",
        sources=(LABEL,),
        needs=("rate_ml_h", "weight_kg"),
        limits=(
            Limit("strong_g_l", 200, "g/L", "albumin that draws in water"),
            Limit("adult_ml_h", 120, "mL/h", "fastest in an adult, 2 mL/min"),
            Limit("wet_ml_h", 60, "mL/h", "fastest with a failing heart, 1 mL/min"),
            Limit("child_ml_kg_h", 2.5, "mL/kg/h", "fastest in a child", PRACTICE),
        ),
        levels=("warning",),
        for_order=strong_albumin_fast,
    ),
)
