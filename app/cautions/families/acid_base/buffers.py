"""Buffers and chloride: which way a fluid pushes acid and base."""

from collections.abc import Iterator
from typing import Final

from app.catalogue.source import Source
from app.cautions.cited import PRACTICE
from app.cautions.phrases import number, opening, reading_or_lack
from app.cautions.rule import Finding, Level, Limit, Limits, Rule
from app.cautions.shared.fluid_facts import is_small, mentions
from app.patient.case import Situation
from app.patient.snapshot import Snapshot
from app.physiology.acid_base import bicarbonate_of

BUFFER_LABELS: Final = Source(
    "US labels of lactated Ringer's and multiple electrolytes type 1", "precautions", seen=True
)
CARLESSO: Final = Source("Carlesso et al., Intensive Care Med 2011;37:461", seen=False)
GASTRIC: Final = Source("GIFTASUP 2008/2011, recommendation 2; NICE CG174, losses", seen=False)

SMALL: Final = Limit("small_ml_day", 500, "mL/24 h", "a volume too small to matter", PRACTICE)
ALKALOSIS_HINTS: Final = ("metabolic_alkalosis", "pyloric_stenosis", "gastric_losses")
GASTRIC_LOSSES: Final = ("vomiting", "gastric_losses", "pyloric_stenosis")
BASE_LOSSES: Final = (
    "diarrhoea", "bicarbonate_loss", "diabetic_ketoacidosis", "metabolic_acidosis",
    "lactic_acidosis", "hyperchloraemic_acidosis", "renal_tubular_acidosis",
)  # fmt: skip
ALKALINISING: Final = ("tricyclic_overdose", "salicylate_poisoning", "urine_alkalinisation")


def buffered_in_alkalosis(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """A fluid that brings base to a patient in metabolic alkalosis."""
    order, patient = situation.order, situation.patient
    base = situation.mix.strong_ion_difference_meq_l
    if base is None or base < limits["buffer_meq_l"] or not _is_crystalloid(situation):
        return
    if is_small(order, patient, limits["small_ml_day"]) and not _is_bicarbonate(situation):
        return
    if not _alkalosis_is_in_question(situation, limits) or _is_meant(situation, limits):
        return
    bicarbonate = known_bicarbonate(patient)
    if not _is_metabolic_alkalosis(patient, bicarbonate, limits):
        return
    level = _alkalosis_level(situation, bicarbonate, limits)
    goes = "it rises further" if base > bicarbonate else "too little chloride to bring it down"
    yield Finding(
        level,
        f"Bicarbonate {number(bicarbonate)} mmol/L and this fluid brings {number(base)} mEq/L of "
        f"base: {goes}.",
        f"{reading_or_lack(patient, 'ph')}; bicarbonate {number(bicarbonate)} mmol/L; the fluid's "
        f"strong ion difference once used {number(base)} mEq/L, chloride "
        f"{number(situation.mix.chloride_mmol_l or 0)} mmol/L.",
        figures={"bicarbonate_mmol_l": bicarbonate, "fluid_base_meq_l": base},
        limits=("ph_high", "bicarbonate_high_mmol_l", "buffer_meq_l", "small_ml_day"),
    )


def _alkalosis_is_in_question(situation: Situation, limits: Limits) -> bool:
    """Gases or bicarbonate at hand, a state that makes alkalosis, or a strongly alkaline fluid;
    a pH under 7.45 settles it.
    """
    patient = situation.patient
    ph = patient.value_or_none("ph")
    if ph is not None and ph < limits["ph_normal_high"]:
        return False
    base = situation.mix.strong_ion_difference_meq_l or 0.0
    at_hand = any(patient.results.get(name) for name in ("ph", "bicarbonate"))
    hinted = patient.conditions.any_of(*ALKALOSIS_HINTS)
    return at_hand or hinted or base >= limits["strong_buffer_meq_l"]


def _is_meant(situation: Situation, limits: Limits) -> bool:
    """Bicarbonate to alkalinise on purpose, while pH is not above 7.55."""
    if not _is_bicarbonate(situation):
        return False
    ph = situation.patient.value_or_none("ph")
    if ph is not None and ph > limits["ph_very_high"]:
        return False
    meant = situation.patient.conditions.any_of(*ALKALINISING)
    return meant or mentions(situation.order, "alkalin")


def known_bicarbonate(patient: Snapshot) -> float:
    """Bicarbonate, mmol/L, measured or from pH and carbon dioxide; NotKnown with neither."""
    ph, pco2 = patient.value_or_none("ph"), patient.value_or_none("pco2")
    if patient.value_or_none("bicarbonate") is None and ph is not None and pco2 is not None:
        return bicarbonate_of(ph, pco2)
    return patient.value("bicarbonate")


def _is_metabolic_alkalosis(patient: Snapshot, bicarbonate: float, limits: Limits) -> bool:
    """High pH with bicarbonate above normal, or high bicarbonate that nothing respiratory explains.

    A high bicarbonate with a pH under 7.45, or with no pH and a high carbon dioxide, is taken as
    compensation; a high pH with normal bicarbonate as over-breathing.
    """
    ph, pco2 = patient.value_or_none("ph"), patient.value_or_none("pco2")
    if ph is not None:
        if ph > limits["ph_high"]:
            return bicarbonate > limits["bicarbonate_normal_mmol_l"]
        return ph >= limits["ph_normal_high"] and bicarbonate > limits["bicarbonate_high_mmol_l"]
    retains = pco2 is not None and pco2 > limits["pco2_high_mmhg"]
    return bicarbonate > limits["bicarbonate_high_mmol_l"] and not retains


def _alkalosis_level(situation: Situation, bicarbonate: float, limits: Limits) -> Level:
    """Critical for bicarbonate in a very high pH; info for a fluid weaker than the plasma, unless
    it is what a severe alkalosis of gastric loss is treated with.
    """
    ph = situation.patient.value_or_none("ph")
    very_high = ph is not None and ph > limits["ph_very_high"]
    if _is_bicarbonate(situation):
        return "critical" if very_high else "warning"
    base = situation.mix.strong_ion_difference_meq_l or 0.0
    severe = bicarbonate >= limits["bicarbonate_severe_mmol_l"] or (
        ph is not None and ph >= limits["ph_very_high"]
    )
    if base > bicarbonate or (severe and _stands_for_gastric_juice(situation, limits)):
        return "warning"
    return "info"


def _stands_for_gastric_juice(situation: Situation, limits: Limits) -> bool:
    """It replaces what the stomach loses, or is the maintenance meanwhile, and nothing rich in
    chloride runs beside it.
    """
    order, patient = situation.order, situation.patient
    if order.is_bolus or order.purpose in ("resuscitation", "carrier"):
        return False
    if not patient.conditions.any_of(*GASTRIC_LOSSES):
        return False
    beside = (other.mix.chloride_mmol_l or 0.0 for other in situation.others if other.mix)
    return max(beside, default=0.0) < limits["replacing_chloride_mmol_l"]


def _is_bicarbonate(situation: Situation) -> bool:
    return situation.mix.bicarbonate_mmol_l * 2 > situation.mix.sodium_mmol_l > 0


def _is_crystalloid(situation: Situation) -> bool:
    fluid = situation.order.fluid
    return fluid is not None and fluid.kind == "crystalloid"


def chloride_for_gastric_loss(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """A fluid poor in chloride while chloride is lost from the stomach."""
    order, patient = situation.order, situation.patient
    chloride = situation.mix.chloride_mmol_l
    if chloride is None or chloride >= limits["fluid_chloride_mmol_l"]:
        return
    losses = [key for key in GASTRIC_LOSSES if key in patient.conditions]
    if (
        not losses
        or not _is_crystalloid(situation)
        or _is_acid_or_rich_in_chloride(patient, limits)
    ):
        return
    if order.purpose == "carrier" or is_small(order, patient, limits["small_ml_day"]):
        return
    yield Finding(
        "info",
        f"Chloride is lost ({losses[0].replace('_', ' ')}) and this fluid holds only "
        f"{number(chloride)} mmol/L of it.",
        f"{opening(reading_or_lack(patient, 'chloride'))}; "
        f"{reading_or_lack(patient, 'potassium')}; "
        f"fluid chloride {number(chloride)} mmol/L.",
        figures={"fluid_chloride_mmol_l": chloride},
        limits=("fluid_chloride_mmol_l", "small_ml_day"),
    )


def _is_acid_or_rich_in_chloride(patient: Snapshot, limits: Limits) -> bool:
    """Base is lost too, or chloride is not low: gastric loss is then not the whole story."""
    if patient.conditions.any_of(*BASE_LOSSES):
        return True
    chloride, ph = patient.value_or_none("chloride"), patient.value_or_none("ph")
    acid = ph is not None and ph < limits["ph_normal_low"]
    return acid or (chloride is not None and chloride > limits["chloride_normal_mmol_l"])


RULES: Final = (
    Rule(
        id="buf-alkalosis",
        title="Buffered fluid in alkalosis",
        trigger="Metabolic alkalosis (pH above 7.50 with bicarbonate above 28 mmol/L, or "
        "bicarbonate above 30 with a pH of 7.45 or more, or with no pH and no raised carbon "
        "dioxide) and a crystalloid whose strong ion difference once used is above the patient's "
        "bicarbonate, over 500 mL in 24 h; info for a buffered fluid that is weaker, warning "
        "where it replaces gastric loss, or is the maintenance meanwhile, at a bicarbonate of 35 "
        "or a pH of 7.55 or more with nothing rich in chloride beside it; sodium "
        "bicarbonate warning at any volume, critical with pH above 7.55.",
        unless="a high bicarbonate compensates carbon dioxide; alkalinisation is the purpose and "
        "pH is at most 7.55",
        do="Prefer 0.9% sodium chloride with potassium when the alkalosis comes from vomiting or "
        "diuretics; repeat the gas.",
        evidence="Labels warn. At constant carbon dioxide a fluid moves bicarbonate towards its "
        "own strong ion difference; part of gluconate leaves unused.",
        sources=(BUFFER_LABELS, CARLESSO),
        needs=("bicarbonate",),
        limits=(
            Limit("ph_high", 7.50, "pH", "pH that is high"),
            Limit("ph_normal_high", 7.45, "pH", "highest normal pH"),
            Limit("ph_very_high", 7.55, "pH", "pH at which bicarbonate is critical", PRACTICE),
            Limit("bicarbonate_normal_mmol_l", 28, "mmol/L", "highest normal bicarbonate"),
            Limit("bicarbonate_high_mmol_l", 30, "mmol/L", "bicarbonate that is high"),
            Limit("bicarbonate_severe_mmol_l", 35, "mmol/L", "severe alkalosis", PRACTICE),
            Limit("replacing_chloride_mmol_l", 120, "mmol/L", "chloride that replaces", GASTRIC),
            Limit("pco2_high_mmhg", 50, "mmHg", "carbon dioxide that explains it", PRACTICE),
            Limit("buffer_meq_l", 20, "mEq/L", "least that counts as buffered"),
            Limit("strong_buffer_meq_l", 40, "mEq/L", "always asks for a bicarbonate"),
            SMALL,
        ),
        levels=("critical", "warning", "info"),
        for_order=buffered_in_alkalosis,
    ),
    Rule(
        id="buf-vomiting",
        title="Gastric loss needs chloride",
        trigger="Vomiting, gastric drainage or pyloric stenosis and a crystalloid with chloride "
        "under 120 mmol/L, over 500 mL in 24 h.",
        unless="diarrhoea or another loss of base, any metabolic acidosis, a pH under 7.35 or a "
        "chloride above 106 mmol/L",
        do="Replace with 0.9% sodium chloride plus potassium; chloride and potassium daily.",
        evidence="Gastric juice holds more chloride than sodium.",
        sources=(GASTRIC,),
        limits=(
            Limit("fluid_chloride_mmol_l", 120, "mmol/L", "least chloride that replaces"),
            Limit("chloride_normal_mmol_l", 106, "mmol/L", "highest normal chloride"),
            Limit("ph_normal_low", 7.35, "pH", "lowest normal pH"),
            SMALL,
        ),
        levels=("info",),
        for_order=chloride_for_gastric_loss,
    ),
)
