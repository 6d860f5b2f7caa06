"""Mannitol where it cannot leave, or has already piled up."""

from collections.abc import Iterator
from typing import Final

from app.catalogue.source import Source
from app.cautions.cited import PRACTICE
from app.cautions.facts import kidneys_failing, urine_ml_kg_h
from app.cautions.phrases import number, reading
from app.cautions.rule import Finding, Level, Limit, Limits, Rule
from app.cautions.shared.flow import is_written, recorded
from app.patient.case import Situation
from app.patient.snapshot import Snapshot
from app.physiology.sodium import plasma_osmolality_mosm_kg

LABEL: Final = Source("US mannitol label", "contraindications and warnings", seen=True)
NEVER: Final = ("anuria", "dialysis", "pulmonary_oedema")
RATHER_NOT: Final = (
    "heart_failure", "fluid_overload", "severe_kidney_failure", "oliguria", "shock",
    "hypovolaemia", "dehydration",
)  # fmt: skip

Reason = tuple[Level, str, tuple[str, ...]]


def mannitol_that_stays(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """Mannitol without urine, with wet lungs, or on top of mannitol."""
    if not situation.mix.mannitol_g_l:
        return
    patient = situation.patient
    reason = _recorded(patient) or _measured(patient, limits) or _by_kidneys(patient)
    if reason is None:
        return
    level, because, used = reason
    yield Finding(
        level,
        f"Mannitol with {because}.",
        f"Mannitol {number(situation.mix.mannitol_g_l)} g/L; {because}.",
        figures={"because": because},
        limits=used,
    )


def _recorded(patient: Snapshot) -> Reason | None:
    for key in recorded(patient, NEVER):
        return "critical", key, ()
    return None


def _measured(patient: Snapshot, limits: Limits) -> Reason | None:
    urine = urine_ml_kg_h(patient)
    if urine is not None and urine < limits["urine_none_ml_kg_h"]:
        said = f"urine {number(patient.urine_ml_h or 0)} mL/h"
        return "critical", f"{said}, almost none", ("urine_none_ml_kg_h",)
    gap = _osmolal_gap(patient)
    if gap is not None and gap > limits["gap_mosm_kg"]:
        return "critical", f"an osmolal gap of {number(gap)} mosm/kg already", ("gap_mosm_kg",)
    osmolality = patient.value_or_none("osmolality")
    if osmolality is not None and osmolality > limits["osmolality_mosm_kg"]:
        return "warning", reading(patient, "osmolality"), ("osmolality_mosm_kg",)
    return None


def _osmolal_gap(patient: Snapshot) -> float | None:
    """Measured osmolality less twice sodium, glucose and urea, mosm/kg; None without all four."""
    values = [patient.value_or_none(n) for n in ("osmolality", "sodium", "glucose", "urea")]
    known = [value for value in values if value is not None]
    if len(known) < len(values):
        return None
    measured, sodium, glucose, urea = known
    calculated = plasma_osmolality_mosm_kg(
        sodium_mmol_l=sodium, glucose_mmol_l=glucose, urea_mmol_l=urea
    )
    return measured - calculated


def _by_kidneys(patient: Snapshot) -> Reason | None:
    for key in recorded(patient, RATHER_NOT):
        return "warning", key, ()
    if is_written(patient, "acute_kidney_injury", "stage 2", "stage 3"):
        return "warning", "acute kidney injury", ()
    fact = kidneys_failing(patient)
    return ("warning", fact.because, ()) if fact.holds else None


RULES: Final = (
    Rule(
        id="man-renal",
        title="Mannitol that cannot leave",
        trigger="Mannitol with no urine, dialysis, pulmonary oedema, urine under 0.2 mL/kg/h or an "
        "osmolal gap above 20 mosm/kg: critical. With failing kidneys, heart failure, overload, "
        "lacking volume or an osmolality above 320 mosm/kg: warning.",
        unless="it is a single dose for coning while 3% sodium chloride is fetched",
        do="Stop and tell the prescriber; 3% sodium chloride lowers intracranial pressure too.",
        evidence="Mannitol leaves by the kidney alone; what stays draws water into the blood. The "
        "osmolality limit of 320 is custom, the gap is the better measure.",
        sources=(LABEL, PRACTICE),
        needs=("urine_ml_h", "creatinine"),
        limits=(
            Limit("urine_none_ml_kg_h", 0.2, "mL/kg/h", "urine that is almost none", PRACTICE),
            Limit("gap_mosm_kg", 20, "mosm/kg", "osmolal gap that shows mannitol staying"),
            Limit("osmolality_mosm_kg", 320, "mosm/kg", "customary highest osmolality"),
        ),
        levels=("critical", "warning"),
        for_order=mannitol_that_stays,
    ),
)
