"""Fluid into a failing heart or wet lungs."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from app.catalogue.source import Source
from app.cautions.cited import ADULT_FRAIL, PRACTICE
from app.cautions.phrases import number
from app.cautions.rule import Finding, Level, Limit, Limits, Rule
from app.cautions.shared.flow import day_ml, is_fast, lacks_volume, recorded, whole_volume_ml
from app.cautions.shared.fluid_facts import child
from app.patient.case import Situation
from app.patient.known import known
from app.patient.order import Order
from app.patient.snapshot import Snapshot

LABELS: Final = Source("US labels of crystalloids", "warnings, fluid overload", seen=True)
AT_RISK: Final = ("pulmonary_oedema", "cardiogenic_shock", "heart_failure", "fluid_overload")
# Bleeding, burns and arrest are treated with volume whatever the heart.
VOLUME_FIRST: Final = (
    "haemorrhage", "massive_transfusion", "burns", "major_burns", "cardiac_arrest",
)  # fmt: skip
INFECTED: Final = ("sepsis", "septic_shock")
FULL: Final = ("fluid_overload", "oedema_signs")
NOT_FLUID: Final = ("osmotic", "concentrate")
EJECTION_FRACTION: Final = re.compile(
    r"(?:\bef\b|lvef|ejection fraction)[^\d%]{0,12}(\d{1,2})(?:\.\d+)?\s*%?"
)
POOR_PUMP: Final = re.compile(
    r"severe(?:ly)?\b.{0,20}(?:\blv\b|ventric|systolic|heart failure)|nyha (?:iv|4)\b"
)


@dataclass(frozen=True, slots=True)
class Heart:
    """What is recorded, whether the lungs are wet, whether volume is lacking as well, and whether
    the heart is written to pump poorly.
    """

    because: str
    wet: bool
    dry: bool
    poor: bool


def fluid_in_heart_failure(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """A bolus or a rate that a failing heart does not take."""
    order, patient = situation.order, situation.patient
    held = recorded(patient, AT_RISK)
    if not held or child(patient) or patient.conditions.any_of(*VOLUME_FIRST):
        return
    if order.fluid is not None and order.fluid.kind in NOT_FLUID:
        return
    wet, dry = "pulmonary_oedema" in patient.conditions, _lacks_volume(patient)
    heart = Heart(held[0], wet, dry, _pumps_poorly(patient, limits))
    if is_fast(order):
        yield from _bolus(order, heart, limits)
    elif patient.setting != "theatre":
        yield from _rate(order, patient, heart, limits)


def _lacks_volume(patient: Snapshot) -> bool:
    if "cardiogenic_shock" in patient.conditions:
        return False
    return lacks_volume(patient) or patient.conditions.any_of(*INFECTED)


def _pumps_poorly(patient: Snapshot, limits: Limits) -> bool:
    """An ejection fraction of 30% or less, or a severely failing ventricle, by the words."""
    words = patient.conditions.detail.get("heart_failure", "").lower()
    fraction = EJECTION_FRACTION.search(words)
    if fraction:
        return float(fraction[1]) <= limits["ejection_percent"]
    return bool(POOR_PUMP.search(words))


def _stays_in_the_blood(order: Order) -> bool:
    """A colloid: each mL fills the heart as two of crystalloid do."""
    return order.fluid is not None and order.fluid.kind == "colloid"


def _bolus(order: Order, heart: Heart, limits: Limits) -> Iterator[Finding]:
    volume = known(whole_volume_ml(order), "volume_ml")
    name = "bolus_ml"
    if heart.dry and not heart.poor and not _stays_in_the_blood(order):
        name = "bolus_dry_ml"
    elif heart.wet:
        name = "bolus_wet_ml"
    if volume <= limits[name]:
        return
    level: Level = "critical" if heart.wet and not heart.dry else "warning"
    short_of = " and short of volume" if heart.dry else ""
    yield Finding(
        level,
        f"Bolus of {number(volume)} mL with {heart.because}{short_of}; {number(limits[name])} mL "
        "at a time, then look again.",
        f"Recorded: {heart.because}{short_of}. Bolus {number(volume)} mL.",
        figures={"bolus_ml": volume},
        limits=(name,),
    )


def _rate(order: Order, patient: Snapshot, heart: Heart, limits: Limits) -> Iterator[Finding]:
    planned = day_ml(order)
    if planned is not None and planned <= limits["small_ml_day"]:
        return
    if _is_replacing(order, patient, heart):
        return
    rate = known(order.rate_ml_h, "rate_ml_h")
    name = "rate_wet_ml_kg_h" if heart.wet else "rate_ml_kg_h"
    if patient.weight_kg is None and rate > limits["rate_certain_ml_h"]:
        share, name = "", "rate_certain_ml_h"
    else:
        per_kg = rate / known(patient.weight_kg, "weight_kg")
        if per_kg <= limits[name]:
            return
        share = f" ({number(per_kg)} mL/kg/h)"
    yield Finding(
        "critical" if heart.wet and not heart.dry else "warning",
        f"{number(rate)} mL/h{share} with {heart.because}.",
        f"{number(rate)} mL/h{share}, {number(rate * 24)} mL a day; recorded: {heart.because}.",
        figures={"rate_ml_h": rate},
        limits=(name, "small_ml_day"),
    )


def _is_replacing(order: Order, patient: Snapshot, heart: Heart) -> bool:
    """Volume is lacking or lost, and this order is more than maintenance for an infection; what
    replaces a loss is let be where no sign says that the patient is full.
    """
    if order.purpose == "replacement" and not heart.wet:
        return not patient.conditions.any_of(*FULL)
    if not heart.dry:
        return False
    return lacks_volume(patient) or order.purpose != "maintenance"


RULES: Final = (
    Rule(
        id="hf-volume",
        title="Fluid in heart failure or overload",
        trigger="An adult with heart failure, overload or pulmonary oedema, and a bolus over 250 "
        "mL (over 500 of crystalloid where volume is lacking or in sepsis, unless the ejection "
        "fraction is 30% or less; over 100 in pulmonary oedema) or more than 1.2 mL/kg/h (0.7 in "
        "pulmonary oedema) for over 500 mL in 24 h; critical in pulmonary oedema, else warning.",
        unless="bleeding, burns or cardiac arrest; a rate that replaces what is lost or lacking",
        do="Give 250 mL at most at a time and look again after each; lower or stop what runs on.",
        evidence="Guidance asks for less, 20 to 25 mL/kg a day, in heart failure. In septic shock "
        "a measured bolus is right even then.",
        sources=(LABELS, ADULT_FRAIL),
        needs=("volume_ml", "rate_ml_h", "weight_kg"),
        limits=(
            Limit("bolus_ml", 250, "mL", "one bolus", PRACTICE),
            Limit("bolus_dry_ml", 500, "mL", "one bolus where volume is lacking", PRACTICE),
            Limit("bolus_wet_ml", 100, "mL", "one bolus in pulmonary oedema", PRACTICE),
            Limit("ejection_percent", 30, "%", "a heart that pumps poorly", PRACTICE),
            Limit("rate_ml_kg_h", 1.2, "mL/kg/h", "rate, just above 28 mL/kg a day", PRACTICE),
            Limit("rate_wet_ml_kg_h", 0.7, "mL/kg/h", "rate in pulmonary oedema", PRACTICE),
            Limit("rate_certain_ml_h", 150, "mL/h", "too fast at any usual weight", PRACTICE),
            Limit("small_ml_day", 500, "mL/24 h", "a volume too small to matter", PRACTICE),
        ),
        population="adult",
        levels=("critical", "warning"),
        for_order=fluid_in_heart_failure,
    ),
)
