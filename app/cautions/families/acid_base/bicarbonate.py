"""Sodium bicarbonate: outside guideline, in ketoacidosis, and the sodium it brings."""

from collections.abc import Iterator
from typing import Final

from app.catalogue.source import Source
from app.cautions.cited import PRACTICE
from app.cautions.phrases import number, opening, reading, reading_or_lack
from app.cautions.rule import Finding, Level, Limit, Limits, Rule
from app.cautions.shared.fluid_facts import child, litres_within, mentions, newborn
from app.patient.case import Situation
from app.patient.order import Order
from app.patient.snapshot import Snapshot

SEPSIS_2021: Final = Source("Surviving Sepsis Campaign guideline, 2021", seen=False)
BICAR_ICU: Final = Source("Jaber et al. (BICAR-ICU), Lancet 2018;392:31", seen=False)
ISPAD_2022: Final = Source("ISPAD guideline on ketoacidosis, 2022", seen=False)
ADA_2024: Final = Source(
    "Consensus report on hyperglycaemic crises, ADA and others, 2024", seen=False
)
LABEL: Final = Source("US sodium bicarbonate label", "precautions", seen=True)

HOURS_PER_DAY: Final = 24.0
# Recorded states for which bicarbonate is a treatment of its own.
REASONS: Final = (
    "hyperkalaemia", "tricyclic_overdose", "salicylate_poisoning", "urine_alkalinisation",
    "rhabdomyolysis", "tumour_lysis", "renal_tubular_acidosis", "bicarbonate_loss", "diarrhoea",
    "chronic_kidney_disease", "dialysis", "cardiac_arrest", "toxic_alcohol",
)  # fmt: skip
REASON_WORDS: Final = (
    "alkalin", "tricyclic", "hyperkal", "high potassium", "salicyl", "aspirin", "tubular",
    "rhabdo", "methotrexate", "lysis", "arrest", "methanol", "ethylene glycol", "toxic alcohol",
    "sodium channel", "flecainide", "qrs",
)  # fmt: skip
KIDNEY: Final = ("acute_kidney_injury", "severe_kidney_failure")


def bicarbonate_outside_guideline(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """Bicarbonate for an acidosis that is not severe, with no other reason for it."""
    patient = situation.patient
    if not _is_bicarbonate(situation, limits) or newborn(patient):
        return
    if "diabetic_ketoacidosis" in patient.conditions or _has_reason(situation, limits):
        return
    ph = patient.value("ph")
    if ph < limits["ph_severe"] or _is_alkalotic(patient, ph, limits):
        return
    kidney = patient.conditions.any_of(*KIDNEY) and ph < limits["ph_kidney"]
    yield Finding(
        "info" if kidney else "warning",
        f"Bicarbonate at pH {number(ph)}: advised only under {number(limits['ph_severe'])}, or for "
        "another stated reason.",
        f"{reading(patient, 'ph')}; {reading_or_lack(patient, 'bicarbonate')}; "
        f"{reading_or_lack(patient, 'pco2')}; {reading_or_lack(patient, 'potassium')}; "
        f"{reading_or_lack(patient, 'calcium_ionised')}. No reason found in orders or conditions.",
        figures={"ph": ph},
        limits=("ph_severe", "ph_kidney", "ph_alkalotic"),
    )


def _is_bicarbonate(situation: Situation, limits: Limits) -> bool:
    return situation.mix.bicarbonate_mmol_l >= limits["bicarbonate_mmol_l"]


def _has_reason(situation: Situation, limits: Limits) -> bool:
    patient = situation.patient
    if patient.conditions.any_of(*REASONS) or mentions(situation.order, *REASON_WORDS):
        return True
    unread = " ".join(patient.conditions.unread).lower()
    if any(word in unread for word in REASON_WORDS):
        return True
    potassium = patient.value_or_none("potassium")
    return potassium is not None and potassium >= limits["potassium_high_mmol_l"]


def _is_alkalotic(patient: Snapshot, ph: float, limits: Limits) -> bool:
    """buf-alkalosis then speaks."""
    bicarbonate = patient.value_or_none("bicarbonate")
    high = bicarbonate is not None and bicarbonate > limits["bicarbonate_alkalotic_mmol_l"]
    return ph > limits["ph_alkalotic"] and high


def bicarbonate_in_ketoacidosis(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """Bicarbonate in ketoacidosis that is not extreme."""
    patient = situation.patient
    if not _is_bicarbonate(situation, limits):
        return
    if "diabetic_ketoacidosis" not in patient.conditions or _heart_is_at_risk(situation, limits):
        return
    ph = patient.value("ph")
    name = "ph_child" if child(patient) else "ph_adult"
    if ph < limits[name]:
        return
    yield Finding(
        "warning",
        f"Bicarbonate in ketoacidosis at pH {number(ph)}: not advised at a pH of "
        f"{number(limits[name])} or more.",
        f"{reading(patient, 'ph')}; {reading_or_lack(patient, 'potassium')}"
        f"{'; in children it goes with brain swelling' if child(patient) else ''}.",
        figures={"ph": ph},
        limits=(name,),
    )


def _heart_is_at_risk(situation: Situation, limits: Limits) -> bool:
    """Potassium so high, or an arrest, that bicarbonate is for the heart."""
    patient = situation.patient
    potassium = patient.value_or_none("potassium")
    very_high = potassium is not None and potassium >= limits["potassium_very_high_mmol_l"]
    ecg = "ecg_change" in patient.conditions and (
        "hyperkalaemia" in patient.conditions
        or (potassium is not None and potassium >= limits["potassium_high_mmol_l"])
    )
    return very_high or ecg or "cardiac_arrest" in patient.conditions


def sodium_with_bicarbonate(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """The sodium that strong bicarbonate brings in a day, or to a sodium already high."""
    patient, mix = situation.patient, situation.mix
    if not _is_bicarbonate(situation, limits) or "cardiac_arrest" in patient.conditions:
        return
    if mix.sodium_mmol_l <= limits["isotonic_sodium_mmol_l"]:
        return
    load = sum(_bicarbonate_mmol(order, limits) for order in situation.case.orders)
    if load > limits["sodium_mmol_day"]:
        yield from _load_finding(situation, load, limits)
        return
    small = load <= limits["small_mmol_day"]
    sodium = patient.value_or_none("sodium") if small else patient.value("sodium")
    if sodium is None or sodium <= limits["sodium_high_mmol_l"]:
        return
    yield Finding(
        "warning",
        f"Sodium is {number(sodium)} mmol/L; this bicarbonate holds "
        f"{number(mix.sodium_mmol_l)} mmol/L.",
        f"{opening(reading(patient, 'sodium'))}; {number(load)} mmol of sodium with bicarbonate in "
        "24 h.",
        figures={"sodium_mmol_l": sodium, "fluid_sodium_mmol_l": mix.sodium_mmol_l},
        limits=("sodium_high_mmol_l",),
    )


def _load_finding(situation: Situation, load: float, limits: Limits) -> Iterator[Finding]:
    patient = situation.patient
    yield Finding(
        _load_level(situation, load, limits),
        f"Strong bicarbonate brings {number(load)} mmol of sodium in 24 h.",
        f"Fluid sodium {number(situation.mix.sodium_mmol_l)} mmol/L; "
        f"{reading_or_lack(patient, 'sodium')}; {reading_or_lack(patient, 'potassium')}; "
        f"{reading_or_lack(patient, 'calcium_ionised')}.",
        figures={"bicarbonate_sodium_mmol_day": round(load)},
        limits=("sodium_mmol_day", "isotonic_sodium_mmol_l"),
    )


def _load_level(situation: Situation, load: float, limits: Limits) -> Level:
    """A poisoning or a severe acidosis that needs it tolerates the sodium until it is high."""
    sodium = situation.patient.value_or_none("sodium")
    high = sodium is not None and sodium > limits["sodium_high_mmol_l"]
    ph = situation.patient.value_or_none("ph")
    severe = ph is not None and ph < limits["ph_severe"] and load <= limits["meant_mmol_day"]
    meant = severe or "tricyclic_overdose" in situation.patient.conditions
    return "info" if meant and not high else "warning"


def _bicarbonate_mmol(order: Order, limits: Limits) -> float:
    """Sodium that strong bicarbonate brings in a day, mmol; none for an isotonic one."""
    litres = litres_within(order, HOURS_PER_DAY)
    if order.mix is None or litres is None:
        return 0.0
    strong = order.mix.sodium_mmol_l > limits["isotonic_sodium_mmol_l"]
    return order.mix.bicarbonate_mmol_l * litres if strong else 0.0


BICARBONATE: Final = Limit("bicarbonate_mmol_l", 40, "mmol/L", "least that counts as bicarbonate")
POTASSIUM: Final = Limit("potassium_high_mmol_l", 6, "mmol/L", "potassium that is a reason")

RULES: Final = (
    Rule(
        id="bic-acidosis",
        title="Bicarbonate ordered outside guideline",
        trigger="Sodium bicarbonate at pH 7.20 or more with no reason recorded (hyperkalaemia or "
        "potassium of 6 or more, tricyclic, salicylate or toxic alcohol poisoning, urine "
        "alkalinisation, "
        "rhabdomyolysis, tumour lysis, renal tubular acidosis or another loss of bicarbonate, "
        "chronic kidney disease, dialysis, cardiac arrest); info in acute kidney injury at pH "
        "under 7.25; bic-dka and buf-alkalosis speak in their states.",
        unless="a newborn; or a reason that is not written down",
        do="Ask the aim; check ventilation, ionised calcium and potassium; gas 1 h after.",
        evidence="BICAR-ICU: no gain overall at pH 7.20 or less, some in kidney injury stage 2-3; "
        "a later trial less dialysis, same deaths.",
        sources=(SEPSIS_2021, BICAR_ICU),
        needs=("ph",),
        limits=(
            BICARBONATE,
            POTASSIUM,
            Limit("ph_severe", 7.20, "pH", "pH under which it is advised"),
            Limit("ph_kidney", 7.25, "pH", "the same, nearly, in kidney injury", PRACTICE),
            Limit("ph_alkalotic", 7.45, "pH", "highest normal pH"),
            Limit("bicarbonate_alkalotic_mmol_l", 28, "mmol/L", "highest normal bicarbonate"),
        ),
        levels=("warning", "info"),
        for_order=bicarbonate_outside_guideline,
    ),
    Rule(
        id="bic-dka",
        title="Bicarbonate in ketoacidosis",
        trigger="Diabetic ketoacidosis and sodium bicarbonate at pH 7.0 or more (child 6.9).",
        unless="potassium of 6.5 or more, or hyperkalaemia with ECG change, or cardiac arrest",
        do="Not routine; ask a specialist. Insulin and fluid correct it; gas in 2 h.",
        evidence="No faster recovery; lower potassium; in children linked to brain swelling.",
        sources=(ISPAD_2022, ADA_2024),
        needs=("ph",),
        limits=(
            BICARBONATE,
            POTASSIUM,
            Limit("potassium_very_high_mmol_l", 6.5, "mmol/L", "potassium that needs it", PRACTICE),
            Limit("ph_adult", 7.0, "pH", "pH under which it may be used, adult", ADA_2024),
            Limit("ph_child", 6.9, "pH", "the same, child", ISPAD_2022),
        ),
        levels=("warning",),
        for_order=bicarbonate_in_ketoacidosis,
    ),
    Rule(
        id="na-bicarb-load",
        title="Bicarbonate sodium load",
        trigger="Bicarbonate with sodium above 170 mmol/L: over 100 mmol of sodium in 24 h from "
        "all such orders, or a sodium above 150 mmol/L (not asked for up to 60 mmol); info for "
        "the load alone in tricyclic poisoning, and up to 250 mmol at a pH under 7.20.",
        unless="it is isotonic (1.26% or 1.4%), or given in cardiac arrest",
        do="Consider isotonic bicarbonate; sodium, potassium and ionised calcium within 4 h.",
        evidence="1 mL of 8.4% brings 1 mmol of sodium: 100 mL as much as 650 mL of 0.9% saline.",
        sources=(LABEL,),
        needs=("sodium",),
        limits=(
            BICARBONATE,
            Limit("isotonic_sodium_mmol_l", 170, "mmol/L", "highest sodium left alone", PRACTICE),
            Limit("sodium_mmol_day", 100, "mmol/24 h", "sodium from bicarbonate"),
            Limit("sodium_high_mmol_l", 150, "mmol/L", "sodium that is high"),
            Limit("meant_mmol_day", 250, "mmol/24 h", "a load meant in severe acidosis", BICAR_ICU),
            Limit("ph_severe", 7.20, "pH", "acidosis that bicarbonate is meant for", SEPSIS_2021),
            Limit("small_mmol_day", 60, "mmol/24 h", "a dose that asks for no sodium", PRACTICE),
        ),
        levels=("warning", "info"),
        for_order=sodium_with_bicarbonate,
    ),
)
