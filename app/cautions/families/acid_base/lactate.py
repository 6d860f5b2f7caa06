"""Lactate and acetate in a liver that cannot use them, and lactate that misleads."""

from collections.abc import Iterator
from typing import Final

from app.catalogue.fluid import ML_PER_L
from app.catalogue.source import Source
from app.cautions.cited import PRACTICE
from app.cautions.facts import kidneys_failing
from app.cautions.phrases import number, opening, reading, reading_or_lack, volume_text
from app.cautions.rule import Finding, Limit, Limits, Rule
from app.cautions.shared.fluid_facts import child, is_small, litres_a_day, mentions
from app.patient.case import Situation
from app.patient.known import NotKnown
from app.patient.order import Order
from app.patient.snapshot import Snapshot

LR_LABEL: Final = Source("US lactated Ringer's label", "precautions", seen=True)
USP: Final = Source("USP labelling of lactated Ringer's", "not for lactic acidosis", seen=True)
TYPE_1_LABEL: Final = Source("US multiple electrolytes type 1 label", "precautions", seen=True)
METFORMIN: Final = Source("UK summaries of product characteristics, lactate fluids", seen=False)
SAMPLE: Final = Source(
    "Does IV lactated Ringer's raise lactate?, J Emerg Med 2018", "abstract", True
)

SMALL: Final = Limit("small_ml_day", 500, "mL/24 h", "a volume too small to matter", PRACTICE)
ACIDOSIS_WORDS: Final = ("acidosis", "acidaemia", "acidemia")


def lactate_in_liver_failure(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """Lactate by the litre in severe liver failure."""
    order, patient = situation.order, situation.patient
    in_bag = situation.mix.lactate_mmol_l
    liver = patient.conditions.any_of("liver_disease", "severe_liver_failure", "cirrhosis")
    if not in_bag or not (liver or _tests_say_failing(patient, limits)):
        return
    because = _liver_failing(patient, limits)
    if because is None or litres_a_day(order) < _litres_that_matter(patient, limits):
        return
    load = in_bag * litres_a_day(order)
    lactate = patient.value_or_none("lactate")
    clears = lactate is not None and lactate <= limits["lactate_normal_mmol_l"]
    yield Finding(
        "info" if clears else "warning",
        f"The liver is failing and this brings {load:.0f} mmol of lactate in 24 h.",
        f"{opening(because)}; {reading_or_lack(patient, 'lactate')}; fluid lactate "
        f"{number(in_bag)} mmol/L, {volume_text(litres_a_day(order))} in 24 h.",
        figures={"lactate_load_mmol_day": round(load)},
        limits=("litres_day", "lactate_high_mmol_l", "inr_high", "bilirubin_high_umol_l"),
    )


def _litres_that_matter(patient: Snapshot, limits: Limits) -> float:
    """A litre in an adult, as much for each kilogram in a child."""
    if not child(patient) or patient.weight_kg is None:
        return limits["litres_day"]
    return min(limits["litres_day"], limits["child_ml_kg_day"] * patient.weight_kg / ML_PER_L)


def _liver_failing(patient: Snapshot, limits: Limits) -> str | None:
    """What says the liver fails, or None. NotKnown when liver disease cannot be graded."""
    if "severe_liver_failure" in patient.conditions:
        return patient.conditions.detail.get("severe_liver_failure", "severe liver failure")
    graded = any(patient.results.get(name) for name in ("inr", "bilirubin"))
    if not graded:
        if "cirrhosis" in patient.conditions:
            return None
        raise NotKnown("inr", "missing", "liver disease of unknown severity: no INR or bilirubin")
    if not _tests_say_failing(patient, limits):
        return None
    lactate = patient.value("lactate")
    if lactate <= limits["lactate_high_mmol_l"]:
        return None
    return f"{reading_or_lack(patient, 'inr')}; {reading_or_lack(patient, 'bilirubin')}"


def _tests_say_failing(patient: Snapshot, limits: Limits) -> bool:
    """INR above 2 without warfarin, or bilirubin above 100 umol/L."""
    inr, bilirubin = patient.value_or_none("inr"), patient.value_or_none("bilirubin")
    clotting = (
        inr is not None and inr > limits["inr_high"] and ("warfarin" not in patient.medications)
    )
    return clotting or (bilirubin is not None and bilirubin > limits["bilirubin_high_umol_l"])


def lactate_as_treatment_of_acidosis(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """A lactate fluid ordered to treat a lactic acidosis."""
    in_bag = situation.mix.lactate_mmol_l
    if not in_bag or not _treats_acidosis(situation.order, in_bag, limits):
        return
    patient = situation.patient
    lactate = patient.value("lactate")
    if lactate <= limits["lactate_high_mmol_l"]:
        return
    yield Finding(
        "warning",
        f"Lactate {number(lactate)} mmol/L: a lactate fluid is no treatment of this acidosis.",
        f"{opening(reading(patient, 'lactate'))}; {reading_or_lack(patient, 'ph')}; ordered as "
        f"“{situation.order.purpose_written or situation.order.written}”.",
        figures={"lactate_mmol_l": lactate, "fluid_lactate_mmol_l": in_bag},
        limits=("lactate_high_mmol_l",),
    )


def _treats_acidosis(order: Order, in_bag: float, limits: Limits) -> bool:
    """Ordered for an acidosis in so many words, or as sixth-molar lactate, whose only use it is."""
    if order.is_bolus or order.purpose in ("resuscitation", "maintenance"):
        return False
    return mentions(order, *ACIDOSIS_WORDS) or in_bag >= limits["strong_lactate_mmol_l"]


def lactate_with_metformin(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """A lactate fluid in lactic acidosis on metformin with failing kidneys."""
    order, patient = situation.order, situation.patient
    in_bag = situation.mix.lactate_mmol_l
    if not in_bag or "metformin" not in patient.medications:
        return
    if is_small(order, patient, limits["small_ml_day"]):
        return
    kidneys = kidneys_failing(patient)
    if not kidneys.holds:
        return
    lactate = patient.value("lactate")
    if lactate <= limits["lactate_high_mmol_l"]:
        return
    yield Finding(
        "warning",
        f"Metformin, failing kidneys and lactate {number(lactate)} mmol/L: choose another buffer.",
        f"{opening(reading(patient, 'lactate'))}; {kidneys.because}; fluid lactate "
        f"{number(in_bag)} mmol/L.",
        figures={"lactate_mmol_l": lactate, "fluid_lactate_mmol_l": in_bag},
        limits=("lactate_high_mmol_l", "small_ml_day"),
    )


def lactate_sample_during_lactate(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """A raised lactate that was drawn while a lactate fluid was running."""
    order, patient = situation.order, situation.patient
    in_bag = situation.mix.lactate_mmol_l
    lactate = patient.value_or_none("lactate")
    if not in_bag or lactate is None or lactate <= limits["lactate_high_mmol_l"]:
        return
    if not _ran_when_drawn(order, patient):
        return
    yield Finding(
        "info",
        f"Lactate {number(lactate)} mmol/L was drawn while a fluid with lactate "
        f"{number(in_bag)} mmol/L ran.",
        f"{opening(reading(patient, 'lactate'))}; the fluid ran already. If it came from that arm "
        "or lumen it reads too high; drawn elsewhere it is real until shown otherwise.",
        figures={"lactate_mmol_l": lactate, "fluid_lactate_mmol_l": in_bag},
        limits=("lactate_high_mmol_l",),
    )


def _ran_when_drawn(order: Order, patient: Snapshot) -> bool:
    drawn = patient.result("lactate").taken_at
    return drawn is not None and order.starts_at is not None and order.starts_at < drawn


def acetate_in_liver_failure(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """Acetate or gluconate in severe liver failure: with care."""
    mix, patient = situation.mix, situation.patient
    in_bag = mix.acetate_mmol_l + mix.gluconate_mmol_l
    if not in_bag or "severe_liver_failure" not in patient.conditions:
        return
    if is_small(situation.order, patient, limits["small_ml_day"]):
        return
    liver = patient.conditions.detail.get("severe_liver_failure", "severe liver failure")
    yield Finding(
        "info",
        f"Severe liver failure, and this fluid holds {number(in_bag)} mmol/L of acetate and "
        "gluconate: follow the gas.",
        f"{opening(liver)}; {reading_or_lack(patient, 'ph')}; acetate "
        f"{number(mix.acetate_mmol_l)}, gluconate {number(mix.gluconate_mmol_l)} mmol/L.",
        figures={"fluid_acetate_gluconate_mmol_l": in_bag},
        limits=("small_ml_day",),
    )


RULES: Final = (
    Rule(
        id="lac-liver",
        title="Lactate fluid in liver failure",
        trigger="A fluid with lactate, 1 L or more in 24 h (child 15 mL/kg), and acute or severe "
        "liver failure, or lactate above 4 mmol/L with INR above 2 (without warfarin) or bilirubin "
        "above 100 umol/L; "
        "info while lactate is at most 2.",
        unless="cirrhosis is compensated",
        do="Prefer an acetate-based fluid or a mixed plan; repeat lactate in 4 to 6 h.",
        evidence="Labels warn; trials show little harm at usual rates. Muscle and kidney use "
        "lactate too, but the result becomes harder to read.",
        sources=(LR_LABEL,),
        needs=("lactate", "inr", "rate_ml_h"),
        limits=(
            Limit("litres_day", 1, "L/24 h", "volume from which it matters"),
            Limit("child_ml_kg_day", 15, "mL/kg/24 h", "the same in a child", PRACTICE),
            Limit("lactate_high_mmol_l", 4, "mmol/L", "lactate that is high"),
            Limit("lactate_normal_mmol_l", 2, "mmol/L", "lactate that is cleared", PRACTICE),
            Limit("inr_high", 2, "ratio", "INR that says the liver fails"),
            Limit("bilirubin_high_umol_l", 100, "umol/L", "bilirubin that says so"),
        ),
        levels=("warning", "info"),
        for_order=lactate_in_liver_failure,
    ),
    Rule(
        id="lac-acidosis",
        title="Lactate fluid for lactic acidosis",
        trigger="Lactate above 4 mmol/L and a lactate fluid ordered, by its own words, to treat "
        "acidosis (sixth-molar lactate: whatever the words).",
        unless="it is resuscitation, as in sepsis, or maintenance",
        do="Do not use it as the treatment of lactic acidosis; treat the cause. Lactate in 2 h.",
        evidence="The label forbids it as treatment; as resuscitation fluid it does not worsen "
        "acidosis.",
        sources=(USP,),
        needs=("lactate",),
        limits=(
            Limit("lactate_high_mmol_l", 4, "mmol/L", "lactate that is high"),
            Limit("strong_lactate_mmol_l", 100, "mmol/L", "a fluid whose only use is acidosis"),
        ),
        levels=("warning",),
        for_order=lactate_as_treatment_of_acidosis,
    ),
    Rule(
        id="lac-metformin",
        title="Lactate fluid with metformin acidosis",
        trigger="Metformin, kidneys failing (eGFR under 30, dialysis, oliguria), lactate above "
        "5 mmol/L and a fluid with lactate over 500 mL in 24 h.",
        unless="metformin was stopped days ago and lactate has another cause",
        do="Prefer an acetate- or bicarbonate-based fluid; stop metformin; gas and lactate in 2 h.",
        evidence="Metformin slows the liver's use of lactate; no trial.",
        sources=(METFORMIN, PRACTICE),
        needs=("lactate", "creatinine"),
        limits=(Limit("lactate_high_mmol_l", 5, "mmol/L", "lactate that is high"), SMALL),
        levels=("warning",),
        for_order=lactate_with_metformin,
    ),
    Rule(
        id="lac-sample",
        title="Lactate sample near a lactated infusion",
        trigger="Lactate above 2 mmol/L drawn after a fluid with lactate had started.",
        unless="it was drawn away from the infusion: then it is real",
        do="Repeat from the other arm or after a pause.",
        evidence="30 mL/kg raises lactate by about 0.9 mmol/L, saline by about 0.4.",
        sources=(PRACTICE, SAMPLE),
        limits=(Limit("lactate_high_mmol_l", 2, "mmol/L", "lactate that is raised"),),
        levels=("info",),
        for_order=lactate_sample_during_lactate,
    ),
    Rule(
        id="ace-severe-liver",
        title="Acetate or gluconate in severe liver failure",
        trigger="Severe liver failure and a fluid with acetate or gluconate over 250 mL in 24 h.",
        unless="gases are followed",
        do="Use with care; gas within 6 h.",
        evidence="Labels caution; acetate is used outside the liver, so it stays the better one.",
        sources=(TYPE_1_LABEL,),
        limits=(Limit("small_ml_day", 250, "mL/24 h", "a volume too small to matter", PRACTICE),),
        levels=("info",),
        for_order=acetate_in_liver_failure,
    ),
)
