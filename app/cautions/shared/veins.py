"""Which vein an infusion runs by, how long, and whether it is a short rescue."""

import re
from typing import Final, Literal

from app.cautions.shared.fluid_facts import mentions
from app.patient.case import Case, Situation
from app.patient.known import NotKnown
from app.patient.order import Order
from app.patient.snapshot import Snapshot

Site = Literal["peripheral", "central"]
CENTRAL_WORDS: Final = re.compile(r"central|picc|cvc|jugular|subclavian|femoral|umbilical|\bport\b")
PERIPHERAL_WORDS: Final = re.compile(r"peripheral|hand|forearm|cannula|antecub|midline|scalp|foot")
SHORT_H: Final = 1.0
RESCUE_ML: Final = 500.0
SMALL_DOSE_ML: Final = 100.0
# Emergencies in which a strong fluid by any good vein is ordinary care (common practice).
EMERGENCIES: Final = (
    "cardiac_arrest", "tricyclic_overdose", "hyperkalaemia", "hypoglycaemia", "seizure",
    "severe_hyponatraemia_symptoms", "raised_intracranial_pressure", "traumatic_brain_injury",
    "intracranial_haemorrhage", "acute_hyponatraemia",
)  # fmt: skip
EMERGENCY_WORDS: Final = (
    "emergency", "arrest", "hypoglyc", "seizure", "fitting", "convuls", "herniat", "hyperkal",
    "pupil", "intracranial", "icp", "tricyclic", "coma",
)  # fmt: skip
GLUCOSE_LOW_MMOL_L: Final = 4.0
POTASSIUM_EMERGENCY_MMOL_L: Final = 6.0


def site_of(patient: Snapshot, lumen_id: str | None) -> Site | None:
    """Peripheral or central: by the lumen named, its name's words, or all access being alike.

    None where it cannot be told.
    """
    lumen = patient.lumen(lumen_id)
    if lumen is not None and lumen.site is not None:
        return lumen.site
    words = f"{lumen_id or ''} {lumen.role if lumen else ''}".lower()
    if CENTRAL_WORDS.search(words):
        return "central"
    if PERIPHERAL_WORDS.search(words):
        return "peripheral"
    if lumen_id is not None:
        return None
    sites = {lumen.site for lumen in patient.access}
    return sites.pop() if len(sites) == 1 else None


def by_small_vein(patient: Snapshot, lumen_id: str | None) -> bool:
    """True by a peripheral vein; NotKnown("lumen") where the line is not told."""
    site = site_of(patient, lumen_id)
    if site is None:
        raise NotKnown("lumen", "missing", "which line it runs on is not told")
    return site == "peripheral"


def surely_small_vein(patient: Snapshot, lumen_id: str | None) -> bool:
    """True where it is told that the vein is peripheral."""
    return site_of(patient, lumen_id) == "peripheral"


def vein_text(patient: Snapshot, lumen_id: str | None) -> str:
    """The vein in words: "a peripheral vein (p1)"."""
    return f"a peripheral vein ({lumen_id})" if lumen_id else "a peripheral vein"


def hours_to_run(order: Order) -> float | None:
    """How long what is ordered runs, h: 0 for a bolus with no time; None when it has no end."""
    if order.duration_h is not None:
        return order.duration_h
    if order.rate_ml_h and order.volume_ml is not None:
        return order.volume_ml / order.rate_ml_h
    return 0.0 if order.is_bolus or order.rate_ml_h is None else None


def is_short(order: Order, most_ml: float) -> bool:
    """True for a dose of at most so many mL given within an hour, or with no time told."""
    hours = hours_to_run(order)
    volume = order.volume_ml
    if volume is None:
        return order.is_bolus
    return volume <= most_ml and hours is not None and hours <= SHORT_H


def in_emergency(case: Case) -> bool:
    """An emergency recorded, or in the results: glucose under 4 or potassium of 6 or more."""
    patient = case.patient
    if patient.conditions.any_of(*EMERGENCIES):
        return True
    glucose, potassium = patient.value_or_none("glucose"), patient.value_or_none("potassium")
    if glucose is not None and glucose < GLUCOSE_LOW_MMOL_L:
        return True
    return potassium is not None and potassium >= POTASSIUM_EMERGENCY_MMOL_L


def is_rescue(situation: Situation) -> bool:
    """A short dose of at most 500 mL for an emergency: accepted by a peripheral vein."""
    order = situation.order
    if not is_short(order, RESCUE_ML):
        return False
    return in_emergency(situation.case) or mentions(order, *EMERGENCY_WORDS)
