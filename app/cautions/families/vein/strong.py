"""Strong saline, strong glucose, and very acid or alkaline infusions by a peripheral vein."""

from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Final

from app.catalogue.source import Source
from app.cautions.cited import PRACTICE
from app.cautions.phrases import (
    bag_name,
    hours_text,
    infusion_name,
    number,
    opening,
    reading_or_lack,
)
from app.cautions.rule import Finding, Level, Limit, Limits, Rule
from app.cautions.shared.fluid_facts import newborn
from app.cautions.shared.veins import (
    by_small_vein,
    hours_to_run,
    is_rescue,
    surely_small_vein,
    vein_text,
)
from app.patient.case import Case, Situation

SALINE_BY_VEIN: Final = Source("Perez and Figueroa, J Neurosci Nurs 2017;49:191", seen=False)
EUROPE_2014: Final = Source("Spasovski et al., Eur J Endocrinol 2014;170:G1", seen=False)
NUTRITION: Final = Source("ASPEN and paediatric nutrition guidance, cap of 10 to 12.5%", seen=False)
LABEL_PH: Final = Source("US dextrose injection labels", "pH 3.2 to 6.5", seen=True)
PH_REVIEW: Final = Source("Manrique-Rodriguez et al., 2021", "abstract, pH 4 to 9", seen=True)
NURSING: Final = Source("Infusion nursing standards of practice, 2016 and 2021", seen=False)
DRUG_LABELS: Final = Source("Labels of phenytoin, aciclovir, ganciclovir, thiopental", seen=False)

# pH as given, from labels, from memory; phenytoin's was seen.
DRUG_PH: Final[Mapping[str, float]] = MappingProxyType(
    {"phenytoin": 12.0, "aciclovir": 11.0, "ganciclovir": 11.0, "thiopental": 10.5}
)


def strong_saline(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """Saline of 3% or more by a peripheral vein, for longer than an emergency lasts."""
    order, mix = situation.order, situation.mix
    strength = mix.sodium_mmol_l
    if not limits["fluid_sodium_mmol_l"] <= strength < limits["concentrate_mmol_l"]:
        return
    if mix.bicarbonate_mmol_l * 2 > strength or is_rescue(situation):
        return
    if not by_small_vein(situation.patient, order.lumen):
        return
    hours = hours_to_run(order)
    how_long = "with no end told" if hours is None else f"for {hours_text(hours)}"
    yield Finding(
        _saline_level(strength, hours, limits),
        f"Saline with {number(strength)} mmol/L of sodium by {vein_text(situation.patient, None)} "
        f"{how_long}.",
        f"{opening(bag_name(order))} by {vein_text(situation.patient, order.lumen)} {how_long}; "
        f"{reading_or_lack(situation.patient, 'sodium')}.",
        figures={"fluid_sodium_mmol_l": strength},
        limits=("fluid_sodium_mmol_l", "short_use_h"),
    )


def _saline_level(strength: float, hours: float | None, limits: Limits) -> Level:
    if hours is not None and hours <= limits["short_use_h"]:
        return "info"
    return "critical" if strength > limits["strongest_mmol_l"] else "warning"


def strong_glucose(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """Glucose above 12.5% by a peripheral vein."""
    order, patient = situation.order, situation.patient
    glucose = situation.mix.glucose_anhydrous_g_l
    if glucose <= limits["glucose_g_l"]:
        return
    if is_rescue(situation) and not newborn(patient):
        return
    if not by_small_vein(patient, order.lumen):
        return
    vein = vein_text(patient, order.lumen)
    yield Finding(
        "critical",
        f"{opening(bag_name(order))} ({number(glucose)} g/L glucose) by {vein}: central line only.",
        f"{number(glucose)} g/L of glucose, counted as anhydrous, by {vein}; "
        f"{reading_or_lack(patient, 'glucose')}.",
        figures={"glucose_g_l": glucose},
        limits=("glucose_g_l",),
    )


def acid_or_alkaline_fluid(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """A fluid of extreme pH by a peripheral vein."""
    order = situation.order
    ph = order.fluid.ph.typical if order.fluid is not None else None
    if ph is None or not _is_extreme(ph, limits) or order.fluid.never_hung:  # type: ignore[union-attr]
        return
    if surely_small_vein(situation.patient, order.lumen) and not is_rescue(situation):
        yield _extreme(opening(bag_name(order)), ph)


def acid_or_alkaline_drug(case: Case, limits: Limits) -> Iterator[Finding]:
    """A drug of extreme pH by a peripheral vein."""
    for other in case.co_infusions:
        ph = DRUG_PH.get(other.key)
        if ph is None or not _is_extreme(ph, limits):
            continue
        if surely_small_vein(case.patient, other.lumen):
            yield _extreme(opening(infusion_name(other)), ph)


def _is_extreme(ph: float, limits: Limits) -> bool:
    return ph < limits["ph_low"] or ph > limits["ph_high"]


def _extreme(what: str, ph: float) -> Finding:
    return Finding(
        "info",
        f"{what} has a pH of {number(ph)} and runs by a peripheral vein: watch the site.",
        f"pH {number(ph)}, as its label has it, by a peripheral vein.",
        figures={"ph": ph},
        limits=("ph_low", "ph_high"),
    )


RULES: Final = (
    Rule(
        id="line-hypertonic-saline",
        title="Strong saline by a peripheral vein",
        trigger="Saline of 3% or more (sodium at least 500 mmol/L) by a peripheral vein for more "
        "than 6 h, or with no end: warning, critical above 3%; info when shorter and no "
        "emergency is recorded.",
        unless="it is a dose of at most 500 mL within an hour for a seizure, low sodium with "
        "symptoms or raised intracranial pressure",
        do="Use a large vein, look at the site every hour, and plan central access if it goes on.",
        evidence="3% saline need not be central: reports of short peripheral use find few "
        "injuries. Waiting for a central line in an emergency does harm.",
        sources=(SALINE_BY_VEIN, EUROPE_2014, PRACTICE),
        needs=("lumen",),
        limits=(
            Limit("fluid_sodium_mmol_l", 500, "mmol/L", "sodium of strong saline"),
            Limit("strongest_mmol_l", 600, "mmol/L", "strongest that a vein bears for long"),
            Limit("concentrate_mmol_l", 1100, "mmol/L", "from here on na-concentrate speaks"),
            Limit("short_use_h", 6, "h", "use that counts as short"),
        ),
        levels=("critical", "warning", "info"),
        for_order=strong_saline,
    ),
    Rule(
        id="line-strong-glucose",
        title="Glucose above 12.5% by a peripheral vein",
        trigger="A bag with more than 125 g/L of glucose, counted as anhydrous, by a peripheral "
        "vein.",
        unless="it is an emergency dose for hypoglycaemia or high potassium, at most 500 mL within "
        "an hour; in a newborn not even then",
        do="Use a central line, or 10% glucose; look at the site if it has run.",
        evidence="Nutrition guidance caps glucose by peripheral vein at 10 to 12.5%. A dose of 50% "
        "by a large vein is accepted in hypoglycaemia; in newborns 10% is used.",
        sources=(NUTRITION, PRACTICE),
        needs=("lumen",),
        limits=(Limit("glucose_g_l", 125, "g/L", "most by a peripheral vein"),),
        levels=("critical",),
        for_order=strong_glucose,
    ),
    Rule(
        id="ph-acidic-vein",
        title="Very acid or alkaline by a peripheral vein",
        trigger="A fluid or drug of pH under 4 or above 9 by a peripheral vein.",
        unless="it is a short rescue",
        do="Use a large vein, flush, and watch the site.",
        evidence="Nursing standards dropped pH alone as a reason for a central line in 2016. "
        "Dextrose fluids are acid but weakly buffered and are left alone.",
        sources=(PH_REVIEW, LABEL_PH, NURSING, DRUG_LABELS),
        limits=(
            Limit("ph_low", 4, "pH", "pH that is very acid"),
            Limit("ph_high", 9, "pH", "pH that is very alkaline"),
        ),
        levels=("info",),
        for_order=acid_or_alkaline_fluid,
        for_patient=acid_or_alkaline_drug,
    ),
)
