"""Water for a patient who passes none."""

from collections.abc import Iterator
from typing import Final

from app.cautions.cited import PRACTICE
from app.cautions.day_loads import whole_day
from app.cautions.phrases import number, opening
from app.cautions.rule import Finding, Limit, Limits, Rule
from app.cautions.shared.flow import day_ml, is_fast, is_written, lacks_volume, whole_volume_ml
from app.cautions.shared.fluid_facts import child
from app.patient.case import Case
from app.patient.known import NotKnown
from app.patient.order import Order
from app.patient.snapshot import Snapshot

# Machines that take water off all day long.
CONTINUOUS: Final = (
    "crrt", "cvvh", "continuous", "haemofiltration", "hemofiltration", "haemodiafiltration",
    "hemodiafiltration",
)  # fmt: skip

STATE: Final = {
    "on dialysis": "the patient is on dialysis", "with no urine": "the patient passes no urine",
}  # fmt: skip


def water_without_urine(case: Case, limits: Limits) -> Iterator[Finding]:
    """A bolus, or a day's fluid, that only dialysis can take off again."""
    patient = case.patient
    because = _passes_no_urine(patient, limits)
    if not because or child(patient) or patient.setting == "theatre" or lacks_volume(patient):
        return
    if "sepsis" not in patient.conditions:
        yield from _boluses(case, because, limits)
    yield from _whole_day(case, because, limits)


def _passes_no_urine(patient: Snapshot, limits: Limits) -> str:
    """Why water stays: "on dialysis", "with no urine"; empty when urine or a machine takes it."""
    if patient.urine_ml_h is not None and patient.urine_ml_h >= limits["urine_kept_ml_h"]:
        return ""
    if "anuria" in patient.conditions and "dialysis" not in patient.conditions:
        return "with no urine"
    if "dialysis" not in patient.conditions or is_written(patient, "dialysis", *CONTINUOUS):
        return ""
    return "" if "kidney_transplant" in patient.conditions else "on dialysis"


def _boluses(case: Case, because: str, limits: Limits) -> Iterator[Finding]:
    for order in case.orders:
        volume = whole_volume_ml(order) or 0.0
        if not is_fast(order) or volume <= limits["bolus_ml"]:
            continue
        yield Finding(
            "warning",
            f"Bolus of {number(volume)} mL {because}: nothing but dialysis takes it off.",
            f"{opening(STATE[because])}; bolus {number(volume)} mL, no loss of volume recorded.",
            figures={"bolus_ml": volume},
            limits=("bolus_ml",),
            order_ids=(order.id,),
        )


def _whole_day(case: Case, because: str, limits: Limits) -> Iterator[Finding]:
    day = whole_day(case, _goes_on)
    if day.water_ml <= limits["day_ml"]:
        if any(_goes_on(order) and day_ml(order) is None for order in case.orders):
            raise NotKnown("rate_ml_h", "missing", "the rate of an order is not told")
        return
    if not day.order_ids:
        return
    yield Finding(
        "warning",
        f"{day.prefix.capitalize()}{number(day.water_ml)} mL in 24 h {because}; losses plus "
        "500 mL is usual.",
        f"All that goes on and drug volumes: {day.prefix}{number(day.water_ml)} mL in 24 h; "
        f"{STATE[because]}.",
        figures={"water_ml_day": day.water_ml},
        limits=("day_ml",),
        order_ids=day.order_ids,
    )


def _goes_on(order: Order) -> bool:
    """All but boluses, and what is lost and made good."""
    return not is_fast(order) and order.purpose != "replacement"


RULES: Final = (
    Rule(
        id="dia-anuric",
        title="Fluid without urine",
        trigger="An adult on dialysis or without urine, and a bolus over 500 mL, or over 1200 mL "
        "in 24 h from all orders but boluses and replacement, and from drugs.",
        unless="urine is 20 mL/h or more, continuous filtration or a working transplant; volume is "
        "lost or lacking; the bolus is for sepsis",
        do="Match what is lost plus about 500 mL a day; ask the kidney team.",
        evidence="What is not lost stays until dialysis.",
        sources=(PRACTICE,),
        needs=("rate_ml_h",),
        limits=(
            Limit("urine_kept_ml_h", 20, "mL/h", "urine that still takes water off"),
            Limit("bolus_ml", 500, "mL", "largest bolus"),
            Limit("day_ml", 1200, "mL/24 h", "most in a day"),
        ),
        population="adult",
        levels=("warning",),
        for_patient=water_without_urine,
    ),
)
