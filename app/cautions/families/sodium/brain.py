"""Fluids and the injured brain: free water, balanced fluids, albumin."""

from collections.abc import Iterator
from typing import Final

from app.catalogue.source import Source
from app.cautions.cited import PRACTICE
from app.cautions.phrases import number, reading_or_lack
from app.cautions.rule import Finding, Level, Limit, Limits, Rule
from app.cautions.shared.fluid_facts import child, is_small, newborn
from app.patient.case import Situation
from app.patient.order import Order
from app.patient.snapshot import Snapshot

NEURO_2018: Final = Source(
    "Oddo et al., ESICM consensus on fluid therapy in neurointensive care, 2018", seen=False
)
FLUID_CHOICE_2024: Final = Source("ESICM guideline on fluid choice, 2024", "abstract", seen=True)
BALANCED_TBI: Final = Source(
    "Pooled trials of balanced crystalloid against saline, 2022 and 2025", "abstracts", seen=True
)
SAFE_TBI: Final = Source("SAFE-TBI, N Engl J Med 2007;357:874", seen=False)

INJURIES: Final = (
    "traumatic_brain_injury", "raised_intracranial_pressure", "subarachnoid_haemorrhage",
    "intracranial_haemorrhage", "neurosurgery", "stroke", "meningitis", "encephalitis",
)  # fmt: skip
# Injuries in which a near-isotonic balanced bolus for shock is ordinary care.
MILDER: Final = frozenset({"stroke", "meningitis", "encephalitis"})
SHOCK: Final = ("shock", "septic_shock", "sepsis", "haemorrhage", "hypovolaemia")


def hypotonic_in_brain_injury(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """A fluid less tonic than plasma in acute brain injury."""
    order, patient = situation.order, situation.patient
    injuries = _injuries(patient)
    if not injuries or newborn(patient) or "diabetes_insipidus" in patient.conditions:
        return
    tonicity = _crystalloid_tonicity(situation)
    if tonicity is None or tonicity >= limits["isotonic_mosm_l"]:
        return
    if is_small(order, patient, limits["small_ml_day"]):
        return
    sodium = patient.value_or_none("sodium")
    if sodium is not None and sodium >= limits["sodium_treated_mmol_l"]:
        return
    level = _brain_level(situation, tonicity, sodium, limits)
    yield Finding(
        level,
        f"{_named(injuries[0])} and {_kind(tonicity)} (tonicity {number(tonicity)} mOsm/L): "
        "water moves into the brain.",
        f"Recorded: {', '.join(map(_said, injuries))}. Tonicity of the fluid {number(tonicity)} "
        f"mOsm/L, glucose counted out; {reading_or_lack(patient, 'sodium')}.",
        figures={"tonicity_mosm_l": tonicity},
        limits=("hypotonic_mosm_l", "isotonic_mosm_l", "sodium_treated_mmol_l", "small_ml_day"),
    )


def _kind(tonicity: float) -> str:
    return "a hypotonic fluid" if tonicity else "a fluid that acts as water"


def _brain_level(
    situation: Situation, tonicity: float, sodium: float | None, limits: Limits
) -> Level:
    high = sodium is not None and sodium > limits["sodium_high_mmol_l"]
    if tonicity < limits["hypotonic_mosm_l"]:
        return "warning" if high else "critical"
    fast = situation.order.is_bolus or situation.order.purpose == "resuscitation"
    milder = MILDER.issuperset(_injuries(situation.patient))
    if milder and (fast or situation.patient.conditions.any_of(*SHOCK)):
        return "info"
    return "warning"


def _injuries(patient: Snapshot) -> tuple[str, ...]:
    found = tuple(key for key in INJURIES if key in patient.conditions)
    if found or "brain_injury" not in patient.conditions:
        return found
    return ("brain_injury",)


def _crystalloid_tonicity(situation: Situation) -> float | None:
    """Tonicity of a crystalloid, mOsm/L; None for any other kind of fluid."""
    fluid = situation.order.fluid
    mix = situation.mix
    return mix.tonicity_mosm_l if fluid is not None and fluid.kind == "crystalloid" else None


def _said(key: str) -> str:
    return key.replace("_", " ")


def _named(key: str) -> str:
    return _said(key).capitalize()


def balanced_in_head_injury(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """A balanced crystalloid in an adult with traumatic brain injury."""
    order, patient = situation.order, situation.patient
    if "traumatic_brain_injury" not in patient.conditions or child(patient):
        return
    if not _is_balanced(order) or is_small(order, patient, limits["small_ml_day"]):
        return
    chloride, ph = patient.value_or_none("chloride"), patient.value_or_none("ph")
    if chloride is not None and chloride > limits["chloride_high_mmol_l"]:
        return
    if ph is not None and ph < limits["ph_low"]:
        return
    in_bag = situation.mix.chloride_mmol_l or 0.0
    yield Finding(
        "warning",
        f"Head injury and a balanced fluid (chloride {number(in_bag)} mmol/L): deaths were more "
        "frequent than with 0.9% saline.",
        f"Traumatic brain injury recorded; {reading_or_lack(patient, 'chloride')}. Pooled trials: "
        "odds of death 1.31 (1.03 to 1.65) with balanced; without brain injury the other way.",
        figures={"fluid_chloride_mmol_l": in_bag},
        limits=("chloride_high_mmol_l", "ph_low", "small_ml_day"),
    )


def _is_balanced(order: Order) -> bool:
    return order.fluid is not None and order.fluid.is_buffered


def albumin_in_head_injury(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """Any albumin in an adult with traumatic brain injury."""
    patient = situation.patient
    strength = situation.mix.albumin_g_l
    if not strength or "traumatic_brain_injury" not in patient.conditions or child(patient):
        return
    yield Finding(
        "critical",
        f"Head injury and albumin ({number(strength)} g/L): more deaths than with 0.9% saline.",
        "Traumatic brain injury recorded. "
        "At two years 33.2% had died with 4% albumin, 20.4% with saline.",
        figures={"albumin_g_l": strength},
    )


SMALL: Final = Limit("small_ml_day", 250, "mL/24 h", "a volume too small to matter", PRACTICE)

RULES: Final = (
    Rule(
        id="na-brain",
        title="Hypotonic fluid in brain injury",
        trigger="Acute brain injury (trauma, raised pressure, subarachnoid or other bleeding, "
        "stroke, meningitis, encephalitis, neurosurgery) and a crystalloid of tonicity under "
        "280 mOsm/L, over 250 mL in 24 h: critical under 260 (warning if sodium is above 145), "
        "warning from 260 to 280; info for resuscitation in stroke, meningitis or encephalitis "
        "with a fluid of 260 to 280.",
        unless="diabetes insipidus or a sodium of 155 mmol/L or more, or a newborn",
        do="Use 0.9% sodium chloride; repeat sodium within 6 h.",
        evidence="Lactated Ringer's (272) and compound sodium lactate (278) are mildly hypotonic; "
        "glucose in water is pure water once burnt.",
        sources=(NEURO_2018, FLUID_CHOICE_2024),
        limits=(
            Limit("hypotonic_mosm_l", 260, "mOsm/L", "tonicity below which it is critical"),
            Limit("isotonic_mosm_l", 280, "mOsm/L", "lowest tonicity left alone"),
            Limit("sodium_high_mmol_l", 145, "mmol/L", "sodium that is high"),
            Limit("sodium_treated_mmol_l", 155, "mmol/L", "sodium that needs water", PRACTICE),
            SMALL,
        ),
        levels=("critical", "warning", "info"),
        for_order=hypotonic_in_brain_injury,
    ),
    Rule(
        id="na-tbi-balanced",
        title="Balanced fluid in head injury",
        trigger="An adult with traumatic brain injury and a balanced crystalloid over 250 mL in "
        "24 h.",
        unless="chloride is above 110 mmol/L or pH under 7.30",
        do="Prefer 0.9% sodium chloride unless chloride is high; follow sodium and chloride daily.",
        evidence="Pooled trials: odds ratio of death 1.31 (1.03 to 1.65) in brain injury; without "
        "brain injury the other way.",
        sources=(BALANCED_TBI,),
        limits=(
            Limit("chloride_high_mmol_l", 110, "mmol/L", "chloride that is high"),
            Limit("ph_low", 7.30, "pH", "pH that is low"),
            SMALL,
        ),
        population="adult",
        levels=("warning",),
        for_order=balanced_in_head_injury,
    ),
    Rule(
        id="alb-tbi",
        title="Albumin in head injury",
        trigger="An adult with traumatic brain injury and any fluid that holds albumin.",
        unless="the injury is old or was ruled out",
        do="Use a crystalloid, as a rule 0.9% sodium chloride.",
        evidence="One trial's subgroup with hypo-osmolar 4% albumin; nothing better since.",
        sources=(SAFE_TBI,),
        population="adult",
        levels=("critical",),
        for_order=albumin_in_head_injury,
    ),
)
