"""Potassium too concentrated for a peripheral vein."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from app.catalogue.fluid import ML_PER_L
from app.catalogue.source import Source
from app.cautions.cited import PRACTICE
from app.cautions.phrases import bag_name, infusion_name, number, opening, reading_or_lack
from app.cautions.rule import Finding, Level, Limit, Limits, Rule
from app.cautions.shared.veins import by_small_vein, surely_small_vein, vein_text
from app.patient.case import Case, Situation
from app.patient.snapshot import Snapshot

KCL_LABEL: Final = Source(
    "US potassium chloride injection label", "300 and 400 mmol/L central only, quoted", seen=True
)
MONITORED: Final = ("ICU", "theatre", "ED", "neonate")
MINUTES_PER_HOUR: Final = 60.0
SMALL_ML: Final = 250.0
SLOW_MMOL_H: Final = 10.0


@dataclass(frozen=True, slots=True)
class Strength:
    """Potassium in what runs: mmol/L, mmol/h where told, and the bag's mL."""

    what: str
    mmol_l: float
    mmol_h: float | None
    volume_ml: float | None

    @property
    def is_slow_small_dose(self) -> bool:
        """A ready-made dose of at most 10 mmol/h: labelled for a peripheral vein too."""
        small = self.volume_ml is not None and self.volume_ml <= SMALL_ML
        return small and self.mmol_h is not None and self.mmol_h <= SLOW_MMOL_H


def potassium_bag(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """A bag stronger in potassium than a peripheral vein bears."""
    order, patient = situation.order, situation.patient
    if order.mix is None or order.mix.potassium_mmol_l <= limits["ward_mmol_l"]:
        return
    per_litre = order.mix.potassium_mmol_l
    strength = Strength(bag_name(order), per_litre, order.per_hour(per_litre), order.volume_ml)
    level = _level(patient, strength, limits)
    if level is not None and by_small_vein(patient, order.lumen):
        yield _finding(level, strength, patient, order.lumen)


def potassium_dose(case: Case, limits: Limits) -> Iterator[Finding]:
    """A potassium dose beside the fluids, told with its volume, by a peripheral vein."""
    for other in case.co_infusions:
        amount = other.brings.potassium_mmol_l if other.brings else 0.0
        if not amount or not other.volume_ml or not surely_small_vein(case.patient, other.lumen):
            continue
        hours = other.duration_min / MINUTES_PER_HOUR if other.duration_min else None
        strength = Strength(
            infusion_name(other),
            amount * ML_PER_L / other.volume_ml,
            amount / hours if hours else None,
            other.volume_ml,
        )
        level = _level(case.patient, strength, limits)
        if level is not None:
            yield _finding(level, strength, case.patient, other.lumen)


def _level(patient: Snapshot, strength: Strength, limits: Limits) -> Level | None:
    potassium = strength.mmol_l
    if potassium > limits["monitored_most_mmol_l"]:
        return "critical"
    watched = patient.setting in MONITORED or "ecg_monitoring" in patient.conditions
    if watched:
        return "info" if potassium > limits["monitored_mmol_l"] else None
    if potassium <= limits["ward_mmol_l"]:
        return None
    mild = potassium <= limits["ward_most_mmol_l"] or strength.is_slow_small_dose
    return "warning" if mild or patient.setting is None else "critical"


def _finding(level: Level, strength: Strength, patient: Snapshot, lumen: str | None) -> Finding:
    per_hour = f", {number(strength.mmol_h)} mmol/h" if strength.mmol_h else ""
    vein = vein_text(patient, lumen)
    return Finding(
        level,
        f"Potassium {number(strength.mmol_l)} mmol/L by {vein}: it burns the vein.",
        f"{opening(strength.what)} holds {number(strength.mmol_l)} mmol/L{per_hour}; setting: "
        f"{patient.setting or 'not told'}; {reading_or_lack(patient, 'potassium')}.",
        figures={"fluid_potassium_mmol_l": strength.mmol_l},
        limits=("ward_mmol_l", "ward_most_mmol_l", "monitored_mmol_l", "monitored_most_mmol_l"),
    )


RULES: Final = (
    Rule(
        id="line-kcl-peripheral",
        title="Potassium too concentrated for a peripheral vein",
        trigger="By a peripheral vein: on a ward over 40 mmol/L (45 with what a balanced fluid "
        "holds) a warning, over 50 critical; with ECG monitoring over 80 info; over 100 critical "
        "anywhere.",
        unless="a small ready-made dose of up to 100 mmol/L runs at 10 mmol/h or less, which is a "
        "warning on a ward; intensive care, theatre and the emergency department count as "
        "monitored",
        do="Dilute it to 40 mmol/L, or use a central line with ECG monitoring.",
        evidence="The label keeps 300 and 400 mmol/L for central lines and sells 100 mmol/L for "
        "either. Wards in the United Kingdom stay at 40 mmol/L.",
        sources=(KCL_LABEL, PRACTICE),
        needs=("lumen",),
        limits=(
            Limit("ward_mmol_l", 45, "mmol/L", "most on a ward, base fluid included", PRACTICE),
            Limit("ward_most_mmol_l", 50, "mmol/L", "critical on a ward above", PRACTICE),
            Limit("monitored_mmol_l", 80, "mmol/L", "usual with monitoring", PRACTICE),
            Limit("monitored_most_mmol_l", 100, "mmol/L", "most with monitoring"),
        ),
        levels=("critical", "warning", "info"),
        for_order=potassium_bag,
        for_patient=potassium_dose,
    ),
)
