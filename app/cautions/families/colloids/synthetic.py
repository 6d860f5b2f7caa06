"""Starch and gelatin where they do harm."""

import re
from collections.abc import Iterator
from typing import Final

from app.catalogue.source import Source
from app.cautions.cited import PRACTICE, SEPSIS_2021
from app.cautions.facts import kidneys_failing
from app.cautions.phrases import number
from app.cautions.rule import Finding, Limit, Limits, Rule
from app.cautions.shared.flow import recorded
from app.patient.case import Situation
from app.patient.known import NotKnown
from app.patient.snapshot import Snapshot

STARCH_LABEL: Final = Source("US hydroxyethyl starch label", "boxed warning", seen=True)
STARCH_EMA: Final = Source("EMA, suspension of hydroxyethyl starch, 2022", "", seen=False)
STARCH_TRIALS: Final = Source("6S, NEJM 2012;367:124; CHEST, NEJM 2012;367:1901", "", seen=False)
COLLOID_2012: Final = Source("ESICM task force on colloids, 2012", "abstract", seen=True)

# Where starch kills or brings kidney failure, or where the label bars it.
STARCH_HARMS: Final = (
    "septic_shock", "sepsis", "acute_kidney_injury", "dialysis", "anuria", "oliguria",
    "kidney_disease", "major_burns", "burns", "severe_liver_failure", "intracranial_haemorrhage",
    "subarachnoid_haemorrhage", "traumatic_brain_injury", "coagulopathy", "fluid_overload",
    "pulmonary_oedema", "heart_failure", "massive_transfusion", "critical_illness", "shock",
    "cardiac_arrest", "dehydration",
)  # fmt: skip
ICU: Final = "intensive care"
STARCH: Final = re.compile(r"starch|\bhes\b")
GELATIN_HARMS: Final = (
    "septic_shock", "sepsis", "acute_kidney_injury", "dialysis", "anuria", "oliguria",
    "severe_kidney_failure",
)  # fmt: skip


def starch(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """Starch: never in critical illness, and hardly anywhere else."""
    named = situation.order.mix is None and bool(STARCH.search(situation.order.written.lower()))
    strength = 0.0 if named else situation.mix.starch_g_l
    if not strength and not named:
        return
    what = f"Starch ({number(strength)} g/L)" if strength else "Starch"
    patient = situation.patient
    reason = _why_not_starch(patient, limits)
    yield Finding(
        "critical" if reason else "warning",
        f"{what} {'in' if reason == ICU else 'with'} {reason}: more deaths and kidney failure."
        if reason
        else f"{what}: only where nothing else will do.",
        f"Against it in this patient: {reason}." if reason else "No reason for starch is recorded.",
        figures={"starch_g_l": strength} if strength else {},
        limits=("inr_high",) if strength else (),
    )


def _why_not_starch(patient: Snapshot, limits: Limits) -> str:
    found = recorded(patient, STARCH_HARMS)
    if found:
        return found[0]
    if patient.setting == "ICU":
        return ICU
    inr = patient.value_or_none("inr")
    if inr is not None and inr > limits["inr_high"]:
        return f"INR {number(inr)}"
    return _kidneys(patient)


def _kidneys(patient: Snapshot) -> str:
    """What says that the kidneys fail; empty when they work or nothing is known."""
    try:
        fact = kidneys_failing(patient)
    except NotKnown:
        return ""
    return fact.because if fact.holds else ""


def gelatin(situation: Situation, _: Limits) -> Iterator[Finding]:
    """Gelatin in sepsis or kidney injury."""
    strength = situation.mix.gelatin_g_l
    if not strength:
        return
    patient = situation.patient
    found = recorded(patient, GELATIN_HARMS)
    reason = found[0] if found else _kidneys(patient)
    if not reason:
        return
    yield Finding(
        "warning",
        f"Gelatin ({number(strength)} g/L) with {reason}: a crystalloid is advised.",
        f"Recorded: {reason}.",
        figures={"gelatin_g_l": strength},
    )


RULES: Final = (
    Rule(
        id="hes-critical",
        title="Starch",
        trigger="Any fluid that holds hydroxyethyl starch: critical in ICU and with sepsis, shock, "
        "kidney disease or failing kidneys, burns, liver failure, bleeding in the brain, clotting "
        "disorder (INR above 1.5), massive transfusion, heart failure or overload; else warning.",
        unless="nothing else is at hand in a bleeding patient",
        do="Use a balanced crystalloid or 0.9% sodium chloride; blood components where it bleeds.",
        evidence="6S and CHEST: more kidney replacement; 6S more deaths. Starch also lasts in the "
        "body and hinders clotting. Marketing is suspended in the European Union.",
        sources=(STARCH_LABEL, STARCH_EMA, STARCH_TRIALS),
        limits=(Limit("inr_high", 1.5, "INR", "clotting that is disturbed", PRACTICE),),
        levels=("critical", "warning"),
        for_order=starch,
    ),
    Rule(
        id="gel-sepsis",
        title="Gelatin in sepsis or kidney injury",
        trigger="A fluid with gelatin, and sepsis, septic shock, acute kidney injury, dialysis, no "
        "or little urine, or failing kidneys by result.",
        unless="no crystalloid is at hand",
        do="Use a balanced crystalloid or 0.9% sodium chloride.",
        evidence="No gain over crystalloid; more kidney injury and allergy in pooled studies.",
        sources=(SEPSIS_2021, COLLOID_2012),
        levels=("warning",),
        for_order=gelatin,
    ),
)
