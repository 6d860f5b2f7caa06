"""Free water where it is retained: low sodium, children, after surgery."""

from collections.abc import Iterator
from typing import Final

from app.catalogue.source import Source
from app.cautions.cited import CHILD_FLUIDS, PRACTICE
from app.cautions.phrases import (
    amount_text,
    listed,
    number,
    opening,
    reading,
    reading_or_lack,
    volume_text,
)
from app.cautions.rule import Finding, Level, Limit, Limits, Rule
from app.cautions.shared.fluid_facts import (
    glucose_with_insulin,
    is_hypotonic,
    is_relowering,
    is_small,
    known_child,
    litres_a_day,
    mentions,
    newborn,
    on_drug,
    sodium_for_glucose,
    water_is_treatment,
)
from app.patient.case import Situation
from app.patient.known import known
from app.patient.order import Order
from app.patient.snapshot import Snapshot

MORITZ_AYUS: Final = Source("Moritz and Ayus, N Engl J Med 2015;373:1350", seen=False)
UK_GLUCOSE_LABEL: Final = Source("UK summaries of product characteristics", "vasopressin", True)
AAP_2018: Final = Source("Feld et al., Pediatrics 2018;142:e20183083", "key statement", seen=True)
EUROPE_2014: Final = Source("Spasovski et al., Eur J Endocrinol 2014;170:G1", seen=False)
ADULT_HYPOTONIC: Final = Source(
    "NICE CG174, Intravenous fluid therapy in adults in hospital, 2013, updated 2017",
    "1.4, hyponatraemia",
    seen=False,
)

# States that hold water back and make a fall in sodium quick.
WATER_KEEPING: Final = (
    "siadh", "severe_hyponatraemia_symptoms", "seizure", "brain_injury", "postoperative",
    "pneumonia", "bronchiolitis",
)  # fmt: skip
KEEPING_DRUGS: Final = ("desmopressin", "oxytocin")
STRONG_DRIVES: Final = ("postoperative", "pneumonia", "bronchiolitis", "siadh", "neurosurgery")
WEAK_DRIVES: Final = ("pain", "nausea")
# An SSRI also carries the mark "sodium_lowering", so the two are one reason.
WEAK_DRUGS: Final = ("opioid", "sodium_lowering")
SPECIALIST_WORDS: Final = ("specialist", "nephrolog", "renal team", "metabolic team", "oncolog")
ENOUGH_WEAK_DRIVES: Final = 2


def hypotonic_in_hyponatraemia(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """Free water to a patient whose sodium is low."""
    order, patient = situation.order, situation.patient
    if not is_hypotonic(situation.mix) or is_small(order, patient, limits["small_ml_day"]):
        return
    sodium = patient.value("sodium")
    if sodium_for_glucose(patient, sodium) >= limits["sodium_low_mmol_l"]:
        return
    if glucose_with_insulin(situation) or is_relowering(situation):
        return
    litres = litres_a_day(order)
    level = _level_in_hyponatraemia(situation, sodium, limits)
    if level is None:
        return
    salt = situation.mix.cation_salt_mmol_l
    yield Finding(
        level,
        f"Sodium {number(sodium)} mmol/L, and this fluid brings free water: it holds "
        f"{amount_text(salt, 'sodium and potassium')}.",
        f"{opening(reading(patient, 'sodium'))}; {volume_text(litres)} of the fluid in 24 h.",
        figures={"sodium_mmol_l": sodium, "fluid_sodium_potassium_mmol_l": salt, "litres": litres},
        limits=("sodium_low_mmol_l", "sodium_very_low_mmol_l", "small_ml_day"),
    )


def _level_in_hyponatraemia(situation: Situation, sodium: float, limits: Limits) -> Level | None:
    patient = situation.patient
    very_low = sodium < limits["sodium_very_low_mmol_l"]
    if newborn(patient):
        return "warning" if very_low else None
    keeping = patient.conditions.any_of(*WATER_KEEPING) or on_drug(situation.case, *KEEPING_DRUGS)
    return "critical" if very_low or keeping else "warning"


def hypotonic_in_child(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """Hypotonic maintenance from 29 days to 16 years."""
    order, patient = situation.order, situation.patient
    in_fluid = situation.mix.sodium_mmol_l
    if in_fluid >= limits["fluid_sodium_mmol_l"] or not _child_maintenance(situation):
        return
    if water_is_treatment(patient) or glucose_with_insulin(situation):
        return
    yield Finding(
        "info" if _is_specialist_plan(situation) else "critical",
        f"Hypotonic maintenance in a child: sodium {number(in_fluid)} mmol/L in the fluid, "
        f"at least {limits['fluid_sodium_mmol_l']:.0f} is meant.",
        f"Age {_age(patient)}; fluid sodium {number(in_fluid)} mmol/L at {_rate(order)}; "
        f"{reading_or_lack(patient, 'sodium')}.",
        figures={"fluid_sodium_mmol_l": in_fluid},
        limits=("fluid_sodium_mmol_l",),
    )


def _child_maintenance(situation: Situation) -> bool:
    """Maintenance of hypotonic fluid in a child past the newborn weeks, in no newborn unit."""
    order, patient = situation.order, situation.patient
    if not is_hypotonic(situation.mix) or order.is_bolus:
        return False
    stated = order.purpose == "maintenance"
    if order.purpose is not None and not stated:
        return False
    if not known_child(patient) or patient.is_neonate() or patient.setting == "neonate":
        return False
    return stated or not is_small(order, patient, float("inf"))


def _is_specialist_plan(situation: Situation) -> bool:
    if "tumour_lysis" in situation.patient.conditions:
        return True
    return mentions(situation.order, *SPECIALIST_WORDS)


def hypotonic_while_water_is_kept(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """Free water while vasopressin is raised: after surgery, in lung disease, pain, some drugs."""
    order, patient = situation.order, situation.patient
    if not is_hypotonic(situation.mix) or is_small(order, patient, limits["small_ml_day"]):
        return
    strong, weak = _drives(situation)
    if not (strong or weak) or newborn(patient) or water_is_treatment(patient):
        return
    if glucose_with_insulin(situation) or is_relowering(situation):
        return
    weight = known(patient.weight_kg, "weight_kg")
    rate = known(order.rate_ml_h, "rate_ml_h")
    if rate / weight <= limits["rate_ml_kg_h"]:
        return
    yield Finding(
        _level_while_water_is_kept(situation, (strong, weak), limits),
        f"Hypotonic fluid at {number(round(rate / weight, 1))} mL/kg/h while the body keeps water: "
        f"{(*strong, *weak)[0]}.",
        f"{number(rate)} mL/h for {number(weight)} kg of a fluid with "
        f"{amount_text(situation.mix.sodium_mmol_l, 'sodium')}; {listed((*strong, *weak))}; "
        f"{reading_or_lack(patient, 'sodium')}.",
        figures={"rate_ml_kg_h": rate / weight},
        limits=("rate_ml_kg_h", "small_ml_day"),
    )


def _drives(situation: Situation) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """What keeps vasopressin up: strong reasons and weak ones, as people say them."""
    patient = situation.patient
    strong = [key for key in STRONG_DRIVES if key in patient.conditions]
    strong += ["desmopressin"] if on_drug(situation.case, "desmopressin") else []
    weak = [key for key in WEAK_DRIVES if key in patient.conditions]
    weak += [key for key in WEAK_DRUGS if key in patient.medications]
    return tuple(map(_said, strong)), tuple(map(_said, weak))


def _said(key: str) -> str:
    names = {
        "siadh": "SIADH", "sodium_lowering": "a drug that lowers sodium", "opioid": "an opioid",
        "postoperative": "after surgery", "neurosurgery": "after brain surgery",
    }  # fmt: skip
    return names.get(key, key.replace("_", " "))


def _level_while_water_is_kept(
    situation: Situation, drives: tuple[tuple[str, ...], tuple[str, ...]], limits: Limits
) -> Level:
    patient = situation.patient
    sodium = patient.value_or_none("sodium")
    if situation.mix.glucose_g_l and on_drug(situation.case, "insulin"):
        return "info"
    strong, weak = drives
    near = sodium is not None and sodium < limits["sodium_near_low_mmol_l"]
    return "warning" if strong or near or len(weak) >= ENOUGH_WEAK_DRIVES else "info"


def _age(patient: Snapshot) -> str:
    if patient.age_years is None:
        return f"not recorded ({patient.setting})"
    years = patient.age_years
    return f"{number(years)} years" if years >= 1 else f"{round(years * 12)} months"


def _rate(order: Order) -> str:
    return "no rate stated" if order.rate_ml_h is None else f"{number(order.rate_ml_h)} mL/h"


RULES: Final = (
    Rule(
        id="na-hypotonic-child",
        title="Hypotonic maintenance in a child",
        trigger="Age 29 days to under 16 years and maintenance fluid with sodium under 130 mmol/L; "
        "info where a specialist's plan is recorded.",
        unless="sodium is high, diabetes insipidus, glucose runs with insulin in ketoacidosis, "
        "or it is a carrier",
        do="Use a fluid with sodium 131 to 154 mmol/L, with glucose if needed; sodium and glucose "
        "at least daily.",
        evidence="Trials and reviews: isotonic fluid about halves hyponatraemia. Lactated Ringer's "
        "(130) is left alone.",
        sources=(CHILD_FLUIDS, AAP_2018),
        needs=("age_years",),
        limits=(Limit("fluid_sodium_mmol_l", 130, "mmol/L", "lowest sodium for maintenance"),),
        population="child",
        levels=("critical", "info"),
        for_order=hypotonic_in_child,
    ),
    Rule(
        id="na-hypotonic-low",
        title="Hypotonic fluid in hyponatraemia",
        trigger="Sodium under 135 mmol/L (counted up for a high glucose) and a fluid with sodium "
        "plus potassium under 130 mmol/L, over 500 mL in 24 h; critical under 130 or where water "
        "is kept back (SIADH, desmopressin, oxytocin, seizure, brain injury, after surgery, "
        "pneumonia, bronchiolitis), else warning.",
        unless="sodium has risen too fast and water lowers it again on purpose; glucose runs with "
        "insulin in ketoacidosis; it is a carrier for drugs",
        do="Query the order: isotonic fluid or less water; repeat sodium within 4 to 6 h.",
        evidence="Guidelines agree; the size of the fall depends on how much water is kept.",
        sources=(ADULT_HYPOTONIC, EUROPE_2014),
        needs=("sodium", "rate_ml_h"),
        limits=(
            Limit("sodium_low_mmol_l", 135, "mmol/L", "sodium that is low"),
            Limit("sodium_very_low_mmol_l", 130, "mmol/L", "sodium from which it is critical"),
            Limit("small_ml_day", 500, "mL/24 h", "a volume too small to matter", PRACTICE),
        ),
        levels=("critical", "warning"),
        for_order=hypotonic_in_hyponatraemia,
    ),
    Rule(
        id="na-postop-adh",
        title="Hypotonic fluid while water is kept back",
        trigger="Hypotonic fluid above 1 mL/kg/h, over 500 mL in 24 h, after surgery, in "
        "pneumonia or bronchiolitis, SIADH or on desmopressin; also with two of pain, nausea, "
        "opioid, SSRI, or one and a sodium under 138 mmol/L, else info; info too for glucose "
        "beside insulin.",
        unless="sodium is high, diabetes insipidus, or water lowers an overshoot on purpose",
        do="Use isotonic fluid or a lower volume; sodium at least daily.",
        evidence="Vasopressin is raised whatever the sodium, so free water is kept.",
        sources=(MORITZ_AYUS, UK_GLUCOSE_LABEL),
        needs=("weight_kg", "rate_ml_h"),
        limits=(
            Limit("rate_ml_kg_h", 1, "mL/kg/h", "rate above which water adds up"),
            Limit("small_ml_day", 500, "mL/24 h", "a volume too small to matter", PRACTICE),
            Limit("sodium_near_low_mmol_l", 138, "mmol/L", "sodium near low", PRACTICE),
        ),
        levels=("warning", "info"),
        for_order=hypotonic_while_water_is_kept,
    ),
)
