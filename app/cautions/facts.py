"""Facts several families judge by: failing kidneys, shared lines, purpose, loads.

Families never import each other; what two of them need stands here once.
"""

from dataclasses import dataclass
from typing import Final

from app.patient.case import Case
from app.patient.known import NotKnown
from app.patient.order import CoInfusion, Order
from app.patient.snapshot import Snapshot
from app.physiology.kidney import egfr_bedside_child, egfr_ckd_epi_2021

EGFR_FAILING: Final = 30.0
OLIGURIA_ML_KG_H: Final = 0.5
CARRIER_ML_H: Final = 30.0
# Filtration of an infant is low by nature, and the children's formula does not hold.
CHILD_FORMULA_FROM_YEARS: Final = 1.0
FAILING_CONDITIONS: Final = (
    "dialysis", "anuria", "oliguria", "severe_kidney_failure",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Fact:
    """Whether something holds, and the patient's figures that say so."""

    holds: bool
    because: str


def estimated_egfr(patient: Snapshot) -> tuple[float, str] | None:
    """Filtration, mL/min/1.73 m2, as reported or worked out from creatinine; None if neither."""
    reported = patient.value_or_none("egfr")
    if reported is not None:
        return reported, f"eGFR {reported:g} mL/min/1.73 m²"
    creatinine = patient.value_or_none("creatinine")
    if creatinine is None or patient.age_years is None:
        return None
    if patient.is_child():
        if patient.height_cm is None or patient.age_years < CHILD_FORMULA_FROM_YEARS:
            return None
        egfr = egfr_bedside_child(creatinine, patient.height_cm)
    elif patient.sex is None:
        return None
    else:
        egfr = egfr_ckd_epi_2021(creatinine, patient.age_years, patient.sex)
    return egfr, f"creatinine {creatinine:g} µmol/L, eGFR about {egfr:.0f}"


def kidneys_failing(patient: Snapshot) -> Fact:
    """Kidneys that cannot excrete a potassium or water load.

    Holds on dialysis, anuria, stage 3 acute injury, stage 4-5 disease, eGFR under 30, or urine
    under 0.5 mL/kg/h. NotKnown("creatinine") when nothing at all is known of the kidneys.
    """
    for key in FAILING_CONDITIONS:
        if key in patient.conditions:
            return Fact(True, patient.conditions.detail.get(key, key.replace("_", " ")))
    egfr = estimated_egfr(patient)
    if egfr and egfr[0] < EGFR_FAILING:
        return Fact(True, egfr[1])
    urine = urine_ml_kg_h(patient)
    if urine is not None and urine < OLIGURIA_ML_KG_H:
        return Fact(True, f"urine {patient.urine_ml_h:g} mL/h ({urine:.2f} mL/kg/h)")
    if egfr:
        return Fact(False, egfr[1])
    if urine is not None or "kidney_disease" in patient.conditions.denied:
        return Fact(
            False, "urine sufficient" if urine is not None else "no kidney disease recorded"
        )
    raise NotKnown("creatinine", "missing", "nothing is known of the kidneys")


def urine_ml_kg_h(patient: Snapshot) -> float | None:
    """Urine by weight, mL/kg/h; None without both."""
    if patient.urine_ml_h is None or patient.weight_kg is None:
        return None
    return patient.urine_ml_h / patient.weight_kg


def same_line(case: Case, order: Order, other: CoInfusion) -> bool | None:
    """Whether a fluid and another infusion share a lumen; None when it cannot be told."""
    if other.arrangement == "separate":
        return False
    if order.lumen is not None and other.lumen is not None:
        return order.lumen == other.lumen
    if len(case.patient.access) == 1:
        return True
    return None


def runs_as_maintenance(order: Order) -> bool:
    """Ordered as maintenance, or with no purpose stated and running on above a carrier's rate."""
    if order.purpose is not None:
        return order.purpose == "maintenance"
    return not order.is_bolus and (order.rate_ml_h or 0) > CARRIER_ML_H


def potassium_mmol_h(case: Case) -> tuple[float, tuple[str, ...]]:
    """Potassium each hour from every running order, mmol/h, with the orders it comes from.

    An order whose rate or content is not known is left out: the sum is then "at least".
    """
    total = 0.0
    orders: list[str] = []
    for order in case.orders:
        if order.mix is None or order.rate_ml_h is None or not order.mix.potassium_mmol_l:
            continue
        total += order.per_hour(order.mix.potassium_mmol_l) or 0.0
        orders.append(order.id)
    return total, tuple(orders)
