"""What the potassium rules look for at the bedside."""

import re
from typing import Final

from app.catalogue.source import NO_SOURCE, Source
from app.cautions.phrases import NUTRITION, listed
from app.cautions.rule import Limits
from app.cautions.shared.insulin import insulin_runs
from app.patient.case import Case
from app.patient.order import CoInfusion
from app.patient.snapshot import Snapshot
from app.physiology.potassium import drug_brings_potassium

KCL_LABEL: Final = Source("US potassium chloride injection label", "contraindications, warnings")
KCL_RATES: Final = Source(
    "US potassium chloride injection label", "rates, as quoted on other pages", seen=True
)
DKA_UK: Final = Source("JBDS 02, management of diabetic ketoacidosis in adults, 2023")
DKA_2024: Final = Source("Consensus report on hyperglycaemic crises in adults, 2024")
DKA_CHILD: Final = Source("ISPAD guideline on diabetic ketoacidosis, 2022")
PRACTICE: Final = Source(NO_SOURCE)

RAISING: Final = (
    "spironolactone", "eplerenone", "amiloride", "triamterene", "finerenone", "canrenoate",
    "ace_inhibitor", "angiotensin_receptor_blocker", "trimethoprim", "tacrolimus", "ciclosporin",
)  # fmt: skip
CALLED: Final = {
    "ace_inhibitor": "an ACE inhibitor",
    "angiotensin_receptor_blocker": "an angiotensin receptor blocker",
}
POTASSIUM_TOLD: Final = re.compile(r"potassium|electrolyte|\bK\b|\bk[- ]free", re.IGNORECASE)
MONITORED: Final = ("ICU", "theatre", "ED", "neonate")
CRISES: Final = ("diabetic_ketoacidosis", "hyperosmolar_state")


def monitored(patient: Snapshot) -> bool:
    """ECG watched: a setting where it always is, or said so."""
    return patient.setting in MONITORED or "ecg_monitoring" in patient.conditions


def potassium_drugs(case: Case, limits: Limits) -> tuple[CoInfusion, ...]:
    """Drugs that bring potassium, and fluids beside the orders to which it was added."""
    balanced = limits["potassium_balanced_mmol_l"]
    return tuple(other for other in case.co_infusions if drug_brings_potassium(other, balanced))


def nutrition_not_told(case: Case) -> tuple[CoInfusion, ...]:
    """Parenteral nutrition of which nobody has written whether it holds potassium."""
    return tuple(
        other
        for other in case.co_infusions
        if other.key == NUTRITION
        and "potassium" not in other.contents
        and not POTASSIUM_TOLD.search(other.name)
    )


def raising_drugs(patient: Snapshot) -> tuple[str, ...]:
    """The patient's drugs that raise potassium enough to count."""
    drugs = patient.medications
    return tuple(CALLED.get(key, key.replace("_", " ")) for key in RAISING if key in drugs)


def also_on(patient: Snapshot) -> str:
    """A sentence naming the drugs that raise potassium; empty when there are none."""
    drugs = raising_drugs(patient)
    return f" Also on {listed(drugs)}, which raises potassium." if drugs else ""


def in_crisis_on_insulin(case: Case) -> bool:
    """Ketoacidosis or hyperosmolar state with insulin running: potassium is about to fall."""
    return case.patient.conditions.any_of(*CRISES) and insulin_runs(case)
