"""Potassium given where it is high already, or where it cannot be excreted."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from app.catalogue.source import Source
from app.cautions.facts import at_most_warning, estimated_egfr, kidneys_failing, urine_ml_kg_h
from app.cautions.families.potassium.bedside import (
    DKA_UK,
    KCL_LABEL,
    PRACTICE,
    also_on,
    in_crisis_on_insulin,
    monitored,
    nutrition_not_told,
    potassium_drugs,
    raising_drugs,
)
from app.cautions.phrases import infusion_name, number, opening, reading, reading_or_lack, short
from app.cautions.rule import Finding, Level, Limit, Limits, Rule
from app.cautions.shared.fluid_facts import newborn
from app.patient.case import Case, Situation
from app.patient.known import NotKnown
from app.physiology.potassium import adds_potassium, potassium_given

RINGER_LABEL: Final = Source("US lactated Ringer's injection label", "warnings", seen=True)
TRANSPLANT: Final = Source("O'Malley et al., Anesth Analg 2005;100:1518")
BEST: Final = Source("BEST-Fluids trial, Lancet 2023;402:105")
SEVERE: Final = ("dialysis", "anuria", "severe_kidney_failure")
BALANCED: Final = Limit(
    "potassium_balanced_mmol_l", 5.5, "mmol/L", "most that a balanced fluid holds", PRACTICE
)


def potassium_fluid_in_hyperkalaemia(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """More potassium than a balanced fluid's, in a patient whose potassium is high."""
    order = situation.order
    if adds_potassium(order, limits["potassium_balanced_mmol_l"]):
        yield from _hyperkalaemia(
            situation.case, f"this bag gives {potassium_given(order)}", limits
        )


def potassium_drug_in_hyperkalaemia(case: Case, limits: Limits) -> Iterator[Finding]:
    """A potassium infusion in a patient whose potassium is high."""
    for drug in potassium_drugs(case, limits)[:1]:
        yield from _hyperkalaemia(case, f"{infusion_name(drug)} is running", limits)
    for nutrition in nutrition_not_told(case)[:1]:
        gives = f"whether {infusion_name(nutrition)} holds potassium is not written"
        for finding in _hyperkalaemia(case, gives, limits):
            yield replace(
                finding, level="warning", do="Ask what the bag holds; until then hold it."
            )


def _hyperkalaemia(case: Case, gives: str, limits: Limits) -> Iterator[Finding]:
    patient = case.patient
    try:
        potassium = patient.value("potassium")
    except NotKnown:
        if "hyperkalaemia" not in patient.conditions:
            raise
        yield Finding(
            "warning",
            f"Hyperkalaemia is recorded without a usable result, and {gives}.",
            f"Hyperkalaemia is on the list of conditions; {gives}.{also_on(patient)}",
            do="Stop the potassium source until a fresh potassium is known.",
        )
        return
    level = _level_of(case, potassium, limits)
    if level is None:
        return
    has = reading(patient, "potassium")
    yield Finding(
        level,
        f"Potassium {number(potassium)} mmol/L, and {gives}.",
        f"{opening(has)}; {gives}.{also_on(patient)}",
        figures={"potassium_mmol_l": potassium},
        limits=("potassium_high_mmol_l",),
        do="Hold potassium until it is under 5.5 mmol/L, then give it by the ketoacidosis protocol."
        if in_crisis_on_insulin(case)
        else "",
    )


def _level_of(case: Case, potassium: float, limits: Limits) -> Level | None:
    baby = newborn(case.patient)
    high = limits["potassium_high_newborn_mmol_l" if baby else "potassium_high_mmol_l"]
    if in_crisis_on_insulin(case) and potassium <= limits["potassium_dangerous_mmol_l"]:
        return "warning" if potassium > high else None
    if potassium >= high:
        return "critical"
    if potassium < limits["potassium_upper_mmol_l"] or not raising_drugs(case.patient):
        return None
    return "warning" if potassium >= limits["potassium_near_high_mmol_l"] else "info"


def balanced_fluid_with_high_potassium(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """The 4 to 5 mmol/L of a balanced fluid in a patient whose potassium is high."""
    in_bag = situation.order.mix.potassium_mmol_l if situation.order.mix else 0.0
    potassium = situation.patient.value_or_none("potassium")
    if not 0 < in_bag <= limits["potassium_balanced_mmol_l"] or potassium is None:
        return
    if potassium < limits["potassium_high_mmol_l"]:
        return
    yield Finding(
        "info",
        f"Potassium {number(potassium)} mmol/L: this bag's {number(in_bag)} mmol/L cannot raise it "
        "by itself.",
        f"{opening(reading(situation.patient, 'potassium'))}; a fluid that holds less than plasma "
        "dilutes it, and 0.9% sodium chloride raises potassium by its acidosis.",
        figures={"potassium_mmol_l": potassium, "fluid_potassium_mmol_l": in_bag},
        limits=("potassium_high_mmol_l", "potassium_balanced_mmol_l"),
    )


def potassium_fluid_in_kidney_failure(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """Added potassium where the kidneys cannot excrete it."""
    order = situation.order
    if adds_potassium(order, limits["potassium_balanced_mmol_l"]):
        yield from _kidney_failure(
            situation.case, f"this bag gives {potassium_given(order)}", limits
        )


def potassium_drug_in_kidney_failure(case: Case, limits: Limits) -> Iterator[Finding]:
    """A potassium infusion where the kidneys cannot excrete it."""
    for drug in potassium_drugs(case, limits)[:1]:
        yield from _kidney_failure(case, f"{infusion_name(drug)} is running", limits)


def _kidney_failure(case: Case, gives: str, limits: Limits) -> Iterator[Finding]:
    patient = case.patient
    failing = kidneys_failing(patient)
    level = _level_failing(case, limits) if failing.holds else _level_injured(case, limits)
    if level is None:
        return
    potassium = patient.value_or_none("potassium")
    kidneys = failing.because if failing.holds else "acute kidney injury"
    has = reading_or_lack(patient, "potassium")
    tail = f"potassium {number(potassium)} mmol/L" if potassium is not None else has
    yield Finding(
        at_most_warning(level, failing),
        f"{opening(gives)} while kidneys fail ({short(kidneys.split(':')[0])}); {tail}.",
        f"{opening(kidneys)}. {opening(has)}.{also_on(patient)}",
        figures={
            "kidneys": kidneys,
            "potassium_mmol_l": "none" if potassium is None else potassium,
        },
        do="Hold this bag until a fresh potassium is known." if potassium is None else "",
    )


def _level_failing(case: Case, limits: Limits) -> Level:
    patient = case.patient
    potassium = patient.value_or_none("potassium")
    if potassium is None:
        return "critical"
    severe = patient.conditions.any_of(*SEVERE)
    if not severe and in_crisis_on_insulin(case) and potassium < limits["potassium_upper_mmol_l"]:
        return "info"
    replaced = "dialysis" in patient.conditions and patient.setting == "ICU"
    low = limits["potassium_low_dialysis_mmol_l" if replaced else "potassium_low_mmol_l"]
    if potassium < low:
        return "info" if monitored(patient) else "warning"
    return "warning" if _only_passes_little_urine(case, limits) else "critical"


def _only_passes_little_urine(case: Case, limits: Limits) -> bool:
    """Nothing but one low urine figure speaks for failure, and filtration is known to be good."""
    patient = case.patient
    egfr, urine = estimated_egfr(patient), urine_ml_kg_h(patient)
    if patient.conditions.any_of(*SEVERE, "oliguria") or egfr is None or urine is None:
        return False
    return egfr[0] >= limits["egfr_good"] and urine >= limits["urine_very_low_ml_kg_h"]


def _level_injured(case: Case, limits: Limits) -> Level | None:
    """Kidney injury short of failure: filtration lags behind, so potassium decides."""
    if "acute_kidney_injury" not in case.patient.conditions or in_crisis_on_insulin(case):
        return None
    potassium = case.patient.value("potassium")
    return "warning" if potassium >= limits["potassium_upper_mmol_l"] else None


RULES: Final = (
    Rule(
        id="k-hyper",
        title="Potassium added in hyperkalaemia",
        trigger="Plasma potassium at least 5.5 mmol/L and a potassium drug, or more than 5.5 "
        "mmol/L in the bag: critical (from 6 mmol/L in a newborn). A warning from 5.2 mmol/L "
        "on a drug that raises potassium (info from 5), and where hyperkalaemia is recorded "
        "without a usable result.",
        unless="the sample was haemolysed and a repeat is normal; in ketoacidosis on insulin "
        "potassium of 5.5 mmol/L is the last at which the protocol gives it, and up to 6 mmol/L "
        "is a warning",
        do="Stop the potassium source and tell the prescriber; treat by local policy.",
        evidence="The 4 to 5 mmol/L of a balanced fluid is not the hazard: see k-balanced-info.",
        sources=(KCL_LABEL, DKA_UK),
        needs=("potassium", "fluid"),
        limits=(
            Limit("potassium_high_mmol_l", 5.5, "mmol/L", "plasma potassium that is high"),
            Limit(
                "potassium_high_newborn_mmol_l", 6, "mmol/L", "the same to 28 days of age", PRACTICE
            ),
            Limit(
                "potassium_upper_mmol_l",
                5,
                "mmol/L",
                "to mention on a drug that raises it",
                PRACTICE,
            ),
            Limit("potassium_near_high_mmol_l", 5.2, "mmol/L", "high on such a drug", PRACTICE),
            Limit(
                "potassium_dangerous_mmol_l",
                6,
                "mmol/L",
                "plasma potassium that is critical even as insulin lowers it",
                PRACTICE,
            ),
            BALANCED,
        ),
        levels=("critical", "warning", "info"),
        for_order=potassium_fluid_in_hyperkalaemia,
        for_patient=potassium_drug_in_hyperkalaemia,
    ),
    Rule(
        id="k-balanced-info",
        title="Balanced fluid and a high potassium",
        trigger="Plasma potassium at least 5.5 mmol/L and between 0 and 5.5 mmol/L in the bag.",
        unless="potassium has been added to the bag: see k-hyper",
        do="Not a reason by itself to prefer 0.9% sodium chloride; follow potassium and its cause.",
        evidence="Against common belief and the label: in kidney transplant trials saline raised "
        "potassium at least as much, by acidosis. A fluid with less potassium than plasma cannot "
        "raise plasma above itself.",
        sources=(TRANSPLANT, BEST, RINGER_LABEL),
        limits=(
            Limit(
                "potassium_high_mmol_l", 5.5, "mmol/L", "plasma potassium that is high", PRACTICE
            ),
            BALANCED,
        ),
        levels=("info",),
        for_order=balanced_fluid_with_high_potassium,
    ),
    Rule(
        id="k-renal",
        title="Potassium added while kidneys fail",
        trigger="Dialysis, anuria, stage 3 kidney injury, stage 4 or 5 disease, eGFR under 30 or "
        "urine under 0.5 mL/kg/h, and a potassium drug or more than 5.5 mmol/L in the bag: "
        "critical unless plasma potassium is low; a warning where eGFR and creatinine contradict "
        "each other, and in a lesser acute kidney injury from 5 mmol/L of plasma potassium.",
        unless="plasma potassium is under 3.5 mmol/L with ECG monitoring (under 4 mmol/L on "
        "dialysis in intensive care), or ketoacidosis is treated with insulin and urine flows",
        do="Confirm the need with the prescriber before it runs; if it is needed, repeat potassium "
        "in 2 to 4 hours.",
        evidence="Kidneys excrete nearly all potassium. Advice about potassium in kidney failure "
        "is the kind most often dismissed wrongly. Low urine with good filtration is a warning.",
        sources=(KCL_LABEL, RINGER_LABEL),
        needs=("creatinine", "potassium", "fluid"),
        limits=(
            Limit("potassium_low_mmol_l", 3.5, "mmol/L", "plasma potassium that needs replacing"),
            Limit(
                "potassium_low_dialysis_mmol_l",
                4,
                "mmol/L",
                "the same on dialysis in intensive care, which removes potassium",
                PRACTICE,
            ),
            Limit(
                "potassium_upper_mmol_l",
                5,
                "mmol/L",
                "plasma potassium too high to add to in a lesser kidney injury",
                PRACTICE,
            ),
            Limit(
                "egfr_good", 60, "mL/min/1.73 m²", "filtration that outweighs low urine", PRACTICE
            ),
            Limit(
                "urine_very_low_ml_kg_h",
                0.3,
                "mL/kg/h",
                "urine that counts as failure whatever the filtration",
                PRACTICE,
            ),
            BALANCED,
        ),
        levels=("critical", "warning", "info"),
        for_order=potassium_fluid_in_kidney_failure,
        for_patient=potassium_drug_in_kidney_failure,
    ),
)
