"""Diabetes insipidus: water runs out, so salt alone raises sodium, and losses must be matched."""

from collections.abc import Iterator
from typing import Final

from app.cautions.cited import PRACTICE
from app.cautions.phrases import amount_text, number, opening, reading
from app.cautions.rule import Finding, Limit, Limits, Rule
from app.cautions.shared.flow import is_fast, running_ml_h
from app.cautions.shared.fluid_facts import is_hypotonic, is_small, newborn, on_drug
from app.patient.case import Case, Situation
from app.patient.known import NotKnown

DRY: Final = ("shock", "septic_shock", "haemorrhage", "hypovolaemia")
RAISED_ON_PURPOSE: Final = ("brain_injury", "raised_intracranial_pressure")


def salt_in_insipidus(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """A fluid as salty as the body while the kidney passes nearly pure water."""
    order, patient, mix = situation.order, situation.patient, situation.mix
    if "diabetes_insipidus" not in patient.conditions or patient.conditions.any_of(*DRY):
        return
    if is_fast(order) or is_hypotonic(mix) or not mix.sodium_mmol_l:
        return
    if is_small(order, patient, limits["small_ml_day"]) or _water_runs_too(situation):
        return
    sodium = patient.value("sodium")
    brain = patient.conditions.any_of(*RAISED_ON_PURPOSE)
    name = "sodium_brain_mmol_l" if brain else "sodium_high_mmol_l"
    if sodium <= limits[name]:
        return
    yield Finding(
        "warning",
        f"Diabetes insipidus, sodium {number(sodium)} mmol/L, and a fluid with "
        f"{amount_text(mix.cation_salt_mmol_l, 'sodium and potassium')}.",
        f"{opening(reading(patient, 'sodium'))}; the urine carries water away, the salt of "
        "this fluid stays, and no order brings free water.",
        figures={"sodium_mmol_l": sodium},
        limits=(name, "small_ml_day"),
    )


def _water_runs_too(situation: Situation) -> bool:
    """Another order brings free water, or the patient drinks."""
    if "drinking" in situation.patient.conditions:
        return True
    return any(other.mix is not None and is_hypotonic(other.mix) for other in situation.others)


def losses_not_matched(case: Case, limits: Limits) -> Iterator[Finding]:
    """Urine by the litre and far less ordered."""
    patient, urine = case.patient, case.patient.urine_ml_h
    if "diabetes_insipidus" not in patient.conditions or urine is None or not case.orders:
        return
    if "drinking" in patient.conditions or newborn(patient) or on_drug(case, "desmopressin"):
        return
    if patient.weight_kg is None or urine / patient.weight_kg < limits["urine_ml_kg_h"]:
        return
    if any(order.rate_ml_h is None for order in case.orders):
        raise NotKnown("rate_ml_h", "missing", "the rate of an order is not told")
    rate = running_ml_h(case)
    name = "matched_share_water" if _water_brings_it_down(case, limits) else "matched_share"
    if rate >= urine * limits[name]:
        return
    yield Finding(
        "warning",
        f"Diabetes insipidus: urine {number(urine)} mL/h, and {number(rate)} mL/h is ordered.",
        f"Urine {number(urine)} mL/h ({number(urine / patient.weight_kg)} mL/kg/h); all orders "
        f"{number(rate)} mL/h; drinking is not recorded.",
        figures={"urine_ml_h": urine, "rate_ml_h": rate},
        limits=("urine_ml_kg_h", name),
        order_ids=tuple(order.id for order in case.orders),
    )


def _water_brings_it_down(case: Case, limits: Limits) -> bool:
    """Free water runs and sodium is not very high: a slow fall is wanted, so less than the urine
    is enough.
    """
    sodium = case.patient.value_or_none("sodium")
    if sodium is None or sodium >= limits["sodium_very_high_mmol_l"]:
        return False
    return any(order.mix is not None and is_hypotonic(order.mix) for order in case.orders)


RULES: Final = (
    Rule(
        id="di-salt",
        title="Salt without water in diabetes insipidus",
        trigger="Diabetes insipidus, sodium above 145 mmol/L (155 in brain injury) and over 500 mL "
        "in 24 h of a fluid that is not hypotonic, while no order brings free water.",
        unless="shock or lacking volume, a bolus, or the patient drinks",
        do="Give water by mouth or tube, or 5% glucose; treat the cause (desmopressin in cranial "
        "diabetes insipidus); sodium every 4 to 6 h.",
        evidence="Urine nearly free of salt: each litre of 0.9% sodium chloride leaves its salt.",
        sources=(PRACTICE,),
        needs=("sodium",),
        limits=(
            Limit("sodium_high_mmol_l", 145, "mmol/L", "sodium that is high"),
            Limit("sodium_brain_mmol_l", 155, "mmol/L", "sodium that is high even then"),
            Limit("small_ml_day", 500, "mL/24 h", "a volume too small to matter"),
        ),
        levels=("warning",),
        for_order=salt_in_insipidus,
    ),
    Rule(
        id="di-losses",
        title="Urine not matched in diabetes insipidus",
        trigger="Diabetes insipidus, urine of 3 mL/kg/h or more, and all orders together under "
        "half of it; under a quarter where a hypotonic fluid runs and sodium is under 160 mmol/L.",
        unless="the patient drinks or is fed, or desmopressin is given",
        do="Match the urine each hour with a fluid of like salt; ask about desmopressin; sodium "
        "every 4 h.",
        evidence="Hours of unmatched urine empty the circulation and raise sodium.",
        sources=(PRACTICE,),
        needs=("rate_ml_h",),
        limits=(
            Limit("urine_ml_kg_h", 3, "mL/kg/h", "urine that is a loss"),
            Limit("matched_share", 0.5, "of the urine", "least that matches it"),
            Limit("matched_share_water", 0.25, "of the urine", "the same with free water running"),
            Limit("sodium_very_high_mmol_l", 160, "mmol/L", "sodium with much water to make good"),
        ),
        levels=("warning",),
        for_patient=losses_not_matched,
    ),
)
