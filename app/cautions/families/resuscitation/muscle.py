"""Muscle injury: volume before the kidneys are blocked."""

from collections.abc import Iterator
from typing import Final

from app.catalogue.source import Source
from app.cautions.cited import PRACTICE
from app.cautions.phrases import number
from app.cautions.rule import Finding, Limit, Limits, Rule
from app.cautions.shared.flow import is_fast, running_ml_h
from app.cautions.shared.fluid_facts import child
from app.patient.case import Case
from app.patient.known import known

GUIDANCE: Final = Source("EAST guideline, Sawhney et al., 2022", seen=False)
REVIEW: Final = Source("Bosch et al., N Engl J Med 2009;361:62", seen=False)
HELD_BACK: Final = (
    "anuria", "dialysis", "heart_failure", "pulmonary_oedema", "fluid_overload",
)  # fmt: skip


def slow_in_muscle_injury(case: Case, limits: Limits) -> Iterator[Finding]:
    """Much muscle enzyme, little urine, and little fluid."""
    patient = case.patient
    enzyme = patient.value_or_none("creatine_kinase")
    high = enzyme is not None and enzyme > limits["enzyme_u_l"]
    if not high and "rhabdomyolysis" not in patient.conditions:
        return
    rate = running_ml_h(case)
    if child(patient) or patient.conditions.any_of(*HELD_BACK) or rate >= limits["slow_ml_h"]:
        return
    if any(is_fast(order) or order.rate_ml_h is None for order in case.orders):
        return
    urine = known(patient.urine_ml_h, "urine_ml_h")
    if urine >= limits["urine_ml_h"]:
        return
    because = f"creatine kinase {number(enzyme)} U/L" if enzyme is not None else "recorded"
    little = urine < limits["urine_low_ml_h"]
    yield Finding(
        "warning" if little and case.orders else "info",
        f"Muscle injury ({because}), urine {number(urine)} mL/h, fluid {number(rate)} mL/h.",
        f"Rhabdomyolysis: {because}. Urine {number(urine)} mL/h; all orders together "
        f"{number(rate)} mL/h; at least {number(limits['urine_ml_h'])} mL/h of urine is the aim.",
        figures={"urine_ml_h": urine, "rate_ml_h": rate},
        limits=("enzyme_u_l", "urine_ml_h", "urine_low_ml_h", "slow_ml_h"),
        order_ids=tuple(order.id for order in case.orders),
    )


RULES: Final = (
    Rule(
        id="kid-rhabdo",
        title="Muscle injury: volume first",
        trigger="Rhabdomyolysis or creatine kinase above 5000 U/L in an adult, urine under 200 "
        "mL/h and under 150 mL/h ordered: info, warning where urine is under 50 mL/h.",
        unless="no urine, dialysis, heart failure or overload, or a bolus is ordered",
        do="Give isotonic fluid early, by urine; watch potassium.",
        evidence="No gain shown for bicarbonate or mannitol.",
        sources=(GUIDANCE, REVIEW),
        needs=("urine_ml_h",),
        limits=(
            Limit("enzyme_u_l", 5000, "U/L", "creatine kinase that harms kidneys"),
            Limit("urine_ml_h", 200, "mL/h", "urine that is aimed at"),
            Limit("urine_low_ml_h", 50, "mL/h", "urine that is low", PRACTICE),
            Limit("slow_ml_h", 150, "mL/h", "fluid that is slow here", PRACTICE),
        ),
        population="adult",
        levels=("warning", "info"),
        for_patient=slow_in_muscle_injury,
    ),
)
