"""Insulin drives potassium into cells: low before it, or not replaced beside it."""

from collections.abc import Iterator
from typing import Final

from app.cautions.facts import kidneys_known_to_fail
from app.cautions.families.potassium.bedside import (
    CRISES,
    DKA_2024,
    DKA_CHILD,
    DKA_UK,
    PRACTICE,
)
from app.cautions.phrases import number, opening, reading
from app.cautions.rule import Finding, Level, Limit, Limits, Rule
from app.cautions.shared.fluid_facts import child
from app.cautions.shared.insulin import insulin_runs
from app.patient.case import Case
from app.patient.snapshot import Snapshot
from app.physiology.potassium import potassium_mmol_l, sources_of_potassium

CARRIER_TO_ML_H: Final = 30.0


def insulin_with_low_potassium(case: Case, limits: Limits) -> Iterator[Finding]:
    """Insulin by vein while potassium is too low for it."""
    if not insulin_runs(case):
        return
    potassium = case.patient.value("potassium")
    replaced = any(source.added for source in sources_of_potassium(case))
    level = _level_low(case.patient, potassium, replaced, limits)
    if level is None:
        return
    beside = "potassium is running" if replaced else "no potassium is running"
    yield Finding(
        level,
        f"Insulin runs with potassium {number(potassium)} mmol/L: it will fall further.",
        f"{opening(reading(case.patient, 'potassium'))}; {beside}.",
        figures={"potassium_mmol_l": potassium},
        limits=("potassium_hold_mmol_l", "potassium_low_mmol_l"),
        do="" if level == "critical" else "Replace potassium now and repeat it within 2 hours.",
    )


def _level_low(patient: Snapshot, potassium: float, replaced: bool, limits: Limits) -> Level | None:
    """Loudest in a crisis, where insulin can wait; a child's limit is lower."""
    if potassium >= limits["potassium_low_mmol_l"]:
        return None
    adult_crisis = patient.conditions.any_of(*CRISES) and not child(patient)
    hold = limits["potassium_hold_mmol_l" if adult_crisis else "potassium_hold_other_mmol_l"]
    if potassium < hold:
        return "critical"
    if adult_crisis:
        return "warning" if replaced else "critical"
    return None if replaced else "warning"


def ketoacidosis_without_potassium(case: Case, limits: Limits) -> Iterator[Finding]:
    """Insulin and fluids in ketoacidosis, and nothing that replaces potassium."""
    patient = case.patient
    if "diabetic_ketoacidosis" not in patient.conditions or not insulin_runs(case):
        return
    main = _main_orders(case)
    if not main or any(source.added for source in sources_of_potassium(case)):
        return
    potassium = patient.value("potassium")
    in_range = limits["potassium_from_mmol_l"] <= potassium < limits["potassium_to_mmol_l"]
    if not in_range or kidneys_known_to_fail(patient):
        return
    balanced = any(main.values())
    enough = balanced and potassium >= limits["potassium_balanced_enough_mmol_l"]
    what = "only a balanced fluid" if balanced else "no potassium in the fluid"
    yield Finding(
        "info" if enough else "warning",
        f"Ketoacidosis on insulin, potassium {number(potassium)} mmol/L and {what}.",
        f"{opening(reading(patient, 'potassium'))}; insulin and fluid will lower it within hours.",
        figures={"potassium_mmol_l": potassium},
        limits=("potassium_from_mmol_l", "potassium_to_mmol_l"),
        order_ids=tuple(main),
    )


def _main_orders(case: Case) -> dict[str, float]:
    """Orders that are neither bolus nor carrier, with the potassium of each, mmol/L."""
    return {
        order.id: potassium_mmol_l(order)
        for order in case.orders
        if not order.is_bolus
        and order.purpose not in ("resuscitation", "carrier")
        and (order.rate_ml_h is None or order.rate_ml_h > CARRIER_TO_ML_H)
    }


RULES: Final = (
    Rule(
        id="k-insulin-low",
        title="Insulin with a low potassium",
        trigger="Insulin by vein and plasma potassium under 3.5 mmol/L: critical under 3.3 mmol/L "
        "in ketoacidosis or hyperosmolar state, and to 3.5 when none is being replaced; otherwise, "
        "and in children, critical under 3 mmol/L and a warning when none is being replaced.",
        unless="potassium is being replaced and is at least 3 mmol/L outside a crisis",
        do="Hold insulin and replace potassium first; start it once potassium is at least 3.5 "
        "mmol/L.",
        evidence="Insulin moves potassium into cells within minutes; arrhythmia and weak breathing "
        "follow. The limit was 3.3 mmol/L in the United States and 3.5 mmol/L elsewhere and since "
        "2024.",
        sources=(DKA_2024, DKA_UK, DKA_CHILD),
        needs=("potassium",),
        limits=(
            Limit("potassium_low_mmol_l", 3.5, "mmol/L", "potassium to reach before insulin"),
            Limit("potassium_hold_mmol_l", 3.3, "mmol/L", "potassium at which insulin is held"),
            Limit(
                "potassium_hold_other_mmol_l",
                3,
                "mmol/L",
                "the same in children and outside a crisis",
                DKA_CHILD,
            ),
        ),
        levels=("critical", "warning"),
        for_patient=insulin_with_low_potassium,
    ),
    Rule(
        id="k-dka-none",
        title="Ketoacidosis on insulin without potassium",
        trigger="Diabetic ketoacidosis, insulin running, plasma potassium from 3.5 to under 5.5 "
        "mmol/L, and no potassium added to any running fluid. A balanced fluid alone is a warning "
        "under 4 mmol/L of plasma potassium and otherwise only mentioned.",
        unless="kidneys fail or there is no urine, only a bolus runs, or potassium runs by itself",
        do="Ask for potassium in the fluid by the local protocol: 40 mmol/L, or 10 to 20 mmol/L, "
        "with the next potassium in 2 hours.",
        evidence="Total body potassium is low in ketoacidosis whatever the result says. United "
        "Kingdom practice adds 40 mmol/L up to 5.5 mmol/L; the 2024 consensus 10 to 20 mmol/L up "
        "to 5.",
        sources=(DKA_UK, DKA_2024, DKA_CHILD),
        needs=("potassium", "fluid"),
        limits=(
            Limit("potassium_from_mmol_l", 3.5, "mmol/L", "below, insulin is held instead"),
            Limit("potassium_to_mmol_l", 5.5, "mmol/L", "from here on none is added"),
            Limit(
                "potassium_balanced_enough_mmol_l",
                4,
                "mmol/L",
                "potassium at which a balanced fluid may do for now",
                PRACTICE,
            ),
        ),
        levels=("warning", "info"),
        for_patient=ketoacidosis_without_potassium,
    ),
)
