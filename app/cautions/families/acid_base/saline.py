"""Saline in an acidosis that is chloride's."""

from collections.abc import Iterator
from typing import Final

from app.catalogue.source import Source
from app.cautions.cited import PRACTICE
from app.cautions.families.acid_base.buffers import SMALL, known_bicarbonate
from app.cautions.phrases import number, reading
from app.cautions.rule import Finding, Limit, Limits, Rule
from app.cautions.shared.fluid_facts import is_small
from app.patient.case import Situation
from app.patient.snapshot import Snapshot
from app.physiology.acid_base import anion_gap_mmol_l, gap_for_albumin_mmol_l

STEWART: Final = Source("Stewart, Can J Physiol Pharmacol 1983;61:1444", seen=False)
SMART: Final = Source("Semler et al. (SMART), N Engl J Med 2018;378:829", seen=False)
ACIDOSIS_HINTS: Final = ("hyperchloraemic_acidosis", "metabolic_acidosis")


def saline_in_hyperchloraemic_acidosis(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """Chloride without base to a patient whose acidosis is chloride's."""
    order, patient = situation.order, situation.patient
    in_bag = situation.mix.chloride_mmol_l
    base = situation.mix.strong_ion_difference_meq_l
    if in_bag is None or in_bag < limits["fluid_chloride_mmol_l"] or base is None or base >= 1:
        return
    if is_small(order, patient, limits["small_ml_day"]):
        return
    if not _acidosis_is_in_question(patient, limits):
        return
    if "brain_injury" in patient.conditions:
        return
    ph, chloride = patient.value("ph"), patient.value("chloride")
    if ph >= limits["ph_low"] or chloride <= limits["chloride_high_mmol_l"]:
        return
    bicarbonate = known_bicarbonate(patient)
    gap = anion_gap_mmol_l(patient.value("sodium"), chloride, bicarbonate)
    albumin = patient.value_or_none("albumin")
    corrected = gap if albumin is None else gap_for_albumin_mmol_l(gap, albumin)
    respiratory = bicarbonate >= limits["bicarbonate_low_mmol_l"]
    if respiratory or corrected > limits["anion_gap_mmol_l"]:
        return
    counted = "albumin not known, gap as it is" if albumin is None else "corrected for albumin"
    yield Finding(
        "warning",
        f"pH {number(ph)} with chloride {number(chloride)} mmol/L and a normal gap: this fluid "
        f"adds {number(in_bag)} mmol/L of chloride.",
        f"{reading(patient, 'ph')}; {reading(patient, 'chloride')}; bicarbonate "
        f"{number(bicarbonate)} mmol/L; anion gap {number(corrected)} mmol/L ({counted}).",
        figures={"ph": ph, "chloride_mmol_l": chloride, "anion_gap_mmol_l": corrected},
        limits=("ph_low", "chloride_high_mmol_l", "anion_gap_mmol_l", "bicarbonate_low_mmol_l"),
    )


def _acidosis_is_in_question(patient: Snapshot, limits: Limits) -> bool:
    """A pH at hand, metabolic acidosis recorded, or chloride high with bicarbonate low: else
    saline asks for no gas.
    """
    if patient.results.get("ph") or patient.conditions.any_of(*ACIDOSIS_HINTS):
        return True
    chloride, low = patient.value_or_none("chloride"), patient.value_or_none("bicarbonate")
    if chloride is None or low is None or chloride <= limits["chloride_high_mmol_l"]:
        return False
    return low < limits["bicarbonate_low_mmol_l"]


RULES: Final = (
    Rule(
        id="sal-hyperCl-acid",
        title="Saline in hyperchloraemic acidosis",
        trigger="pH under 7.30, chloride above 110 mmol/L, bicarbonate under 22, anion gap "
        "(corrected for albumin when known) at most 12 mmol/L, and a fluid with chloride of 120 "
        "or more and no base, over 500 mL in 24 h.",
        unless="there is a brain injury",
        do="Consider a balanced fluid; repeat gas and chloride in 4 to 6 h.",
        evidence="Chloride without base lowers the strong ion difference; outcome gain is small.",
        sources=(STEWART, SMART),
        needs=("ph", "chloride", "bicarbonate", "sodium"),
        limits=(
            Limit("ph_low", 7.30, "pH", "pH that is low"),
            Limit("chloride_high_mmol_l", 110, "mmol/L", "chloride that is high"),
            Limit("bicarbonate_low_mmol_l", 22, "mmol/L", "bicarbonate that is low", PRACTICE),
            Limit("anion_gap_mmol_l", 12, "mmol/L", "highest normal gap"),
            Limit("fluid_chloride_mmol_l", 120, "mmol/L", "least chloride of a saline"),
            SMALL,
        ),
        levels=("warning",),
        for_order=saline_in_hyperchloraemic_acidosis,
    ),
)
