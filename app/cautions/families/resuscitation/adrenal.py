"""Adrenal crisis: salt, glucose and a steroid."""

from collections.abc import Iterator
from typing import Final

from app.catalogue.source import Source
from app.cautions.cited import PRACTICE
from app.cautions.phrases import number, opening, reading
from app.cautions.rule import Finding, Limit, Limits, Rule
from app.cautions.shared.flow import is_fast, is_written
from app.cautions.shared.fluid_facts import child, is_hypotonic, on_drug
from app.patient.case import Case
from app.patient.known import known
from app.patient.order import Order
from app.patient.snapshot import Snapshot

GUIDANCE: Final = Source(
    "Society for Endocrinology, emergency management of adrenal crisis, 2016", seen=False
)
ILL: Final = ("shock", "hypotension", "hypovolaemia", "dehydration", "hypoglycaemia")
HELD_BACK: Final = ("heart_failure", "pulmonary_oedema", "fluid_overload", "dialysis")


def adrenal_crisis(case: Case, limits: Limits) -> Iterator[Finding]:
    """Fluid without salt, salt too slowly, or no glucose for a low glucose, in adrenal crisis."""
    patient = case.patient
    if not case.orders or not _is_crisis(patient):
        return
    yield from _salt(case, limits)
    yield from _glucose(case, limits)
    if not on_drug(case, "steroid"):
        yield Finding(
            "info",
            "Adrenal crisis, and no steroid is recorded.",
            "No hydrocortisone or other steroid among medications or infusions.",
            do="Check that hydrocortisone was given: it comes before everything else.",
        )


def _is_crisis(patient: Snapshot) -> bool:
    """Adrenal failure is a crisis when it is called one, or the patient is ill with it."""
    if "adrenal_crisis" not in patient.conditions:
        return False
    return is_written(patient, "adrenal_crisis", "crisis") or patient.conditions.any_of(*ILL)


def _salt(case: Case, limits: Limits) -> Iterator[Finding]:
    salt = [order for order in case.orders if _brings_salt(order)]
    ids = tuple(order.id for order in case.orders)
    if not salt:
        if any(order.mix is None for order in case.orders):
            return
        yield Finding(
            "critical",
            "Adrenal crisis, and no order brings salt: sodium falls and pressure with it.",
            "All orders are hypotonic: "
            + "; ".join(f"“{order.written}”" for order in case.orders)
            + ".",
            order_ids=ids,
        )
        return
    if any(is_fast(o) for o in salt) or case.patient.conditions.any_of(*HELD_BACK):
        return
    rate = sum(known(order.rate_ml_h, "rate_ml_h") for order in salt)
    name, limit = _slow(case.patient, limits)
    if rate <= limit:
        yield Finding(
            "warning",
            f"Adrenal crisis, and only {number(rate)} mL/h of salt solution is ordered.",
            f"{number(rate)} mL/h; a litre of 0.9% sodium chloride in the first hour is usual in "
            "an adult, 20 mL/kg in a child.",
            figures={"rate_ml_h": rate},
            limits=(name,),
            order_ids=ids,
        )


def _brings_salt(order: Order) -> bool:
    return order.mix is not None and order.mix.sodium_mmol_l > 0 and not is_hypotonic(order.mix)


def _slow(patient: Snapshot, limits: Limits) -> tuple[str, float]:
    if child(patient):
        return "slow_child_ml_kg_h", limits["slow_child_ml_kg_h"] * known(
            patient.weight_kg, "weight_kg"
        )
    return "slow_ml_h", limits["slow_ml_h"]


def _glucose(case: Case, limits: Limits) -> Iterator[Finding]:
    glucose = case.patient.value_or_none("glucose")
    if glucose is None or glucose >= limits["glucose_low_mmol_l"]:
        return
    if any(order.mix is None or order.mix.glucose_g_l for order in case.orders):
        return
    if any("glucose" in other.contents for other in case.co_infusions):
        return
    yield Finding(
        "critical" if glucose < limits["glucose_very_low_mmol_l"] else "warning",
        f"Adrenal crisis, glucose {number(glucose)} mmol/L, and no order brings glucose.",
        f"{opening(reading(case.patient, 'glucose'))}; no fluid ordered holds glucose.",
        figures={"glucose_mmol_l": glucose},
        limits=("glucose_low_mmol_l", "glucose_very_low_mmol_l"),
        order_ids=tuple(order.id for order in case.orders),
        do="Treat the low glucose now; add glucose to 0.9% sodium chloride.",
    )


RULES: Final = (
    Rule(
        id="adr-crisis",
        title="Fluid in adrenal crisis",
        trigger="Adrenal crisis (or adrenal failure with low pressure, lacking volume or low "
        "glucose): no order with salt is critical; salt solution at 125 mL/h or less (child 5 "
        "mL/kg/h) is a warning; glucose under 4 mmol/L with none ordered a warning, under 3 "
        "critical; no steroid recorded is info.",
        unless="a bolus of salt solution runs; heart failure, overload or dialysis holds it back",
        do="Give 0.9% sodium chloride as a bolus, hydrocortisone at once, and glucose where it is "
        "low; sodium every 4 h, it may rise fast.",
        evidence="Salt is lost and cortisol is lacking; with steroid the water leaves quickly and "
        "sodium can overshoot.",
        sources=(GUIDANCE, PRACTICE),
        needs=("rate_ml_h", "weight_kg"),
        limits=(
            Limit("slow_ml_h", 125, "mL/h", "a slow drip in an adult", PRACTICE),
            Limit("slow_child_ml_kg_h", 5, "mL/kg/h", "a slow drip in a child", PRACTICE),
            Limit("glucose_low_mmol_l", 4, "mmol/L", "low glucose"),
            Limit("glucose_very_low_mmol_l", 3, "mmol/L", "very low glucose", PRACTICE),
        ),
        levels=("critical", "warning", "info"),
        for_patient=adrenal_crisis,
    ),
)
