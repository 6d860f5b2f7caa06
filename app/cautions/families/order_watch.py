"""What must be watched while fluid runs: twin orders, results, balance."""

from collections.abc import Iterator
from datetime import timedelta
from itertools import combinations
from typing import Final

from app.cautions.cited import ADULT_MONITORING, CHILD_FLUIDS, PRACTICE
from app.cautions.day_loads import is_stated_upkeep, is_upkeep, overlap, running_h
from app.cautions.facts import CARRIER_ML_H
from app.cautions.phrases import number
from app.cautions.rule import Finding, Limit, Limits, Rule
from app.patient.case import Case, Situation
from app.patient.order import Order
from app.patient.snapshot import Snapshot

ELECTROLYTES: Final = ("sodium", "potassium", "creatinine")
OF_A_FLUID: Final = frozenset(
    {
        *("potassium_chloride", "potassium_acetate", "sodium_chloride", "sodium_acetate"),
        *("potassium", "sodium", "dextrose", "glucose"),
    }
)


def duplicate(case: Case, _limits: Limits) -> Iterator[Finding]:
    """Two orders of like fluid that run at the same time with the same purpose."""
    for first, second in combinations(case.orders, 2):
        if not _alike(first, second) or not overlap(first, second, case):
            continue
        same = first.fluid is second.fluid
        total = (first.rate_ml_h or 0) + (second.rate_ml_h or 0)
        yield Finding(
            "warning",
            f"Two orders of {'the same' if same else 'like'} fluid run together: "
            f"{number(total)} mL/h in all.",
            f"“{first.written}” at {number(first.rate_ml_h or 0)} mL/h and “{second.written}” at "
            f"{number(second.rate_ml_h or 0)} mL/h overlap.",
            figures={"together_ml_h": total},
            order_ids=(first.id, second.id),
        )


def _alike(first: Order, second: Order) -> bool:
    if first.fluid is None or second.fluid is None or not (_runs(first) and _runs(second)):
        return False
    if _carried_by(first) != _carried_by(second):
        return False
    if first.fluid is second.fluid:
        return first.purpose is None or second.purpose is None or first.purpose == second.purpose
    return (
        first.fluid.kind == second.fluid.kind == "crystalloid"
        and first.fluid.tonicity_class == second.fluid.tonicity_class
        and first.purpose == second.purpose == "maintenance"
    )


def _carried_by(order: Order) -> frozenset[str]:
    """What the bag is there to carry: calcium, magnesium, phosphate, a drug. Potassium, sodium or
    glucose only make another maintenance fluid of it.
    """
    return frozenset(a.substance for a in order.additives) - OF_A_FLUID


def _runs(order: Order) -> bool:
    """A continuous fluid above a carrier's rate."""
    if order.is_bolus or order.purpose in ("carrier", "correction", "resuscitation"):
        return False
    return (order.rate_ml_h or 0) > CARRIER_ML_H


def no_labs(case: Case, limits: Limits) -> Iterator[Finding]:
    """Maintenance or replacement over its time limit with no electrolytes in 24 hours."""
    patient = case.patient
    if "end_of_life" in patient.conditions or _has_fresh(patient, limits["result_age_h"]):
        return
    late = [order for order in case.orders if _is_late(order, case, limits)]
    if late:
        yield _overdue(case, late, limits)
        return
    ordered = [o for o in case.orders if is_stated_upkeep(o) and running_h(o, case) is None]
    last = _newest(patient)
    if ordered and last is not None:
        yield _old(last, ordered, limits)


def _overdue(case: Case, late: list[Order], limits: Limits) -> Finding:
    hours = max(running_h(order, case) or 0 for order in late)
    last = _newest(case.patient)
    since = "none recorded" if last is None else f"the last is {_hours(last):.0f} h old"
    return Finding(
        "warning",
        f"Fluid has run {hours:.0f} h without electrolytes: {since}.",
        f"No sodium, potassium or creatinine in {number(limits['result_age_h'])} h ({since}); "
        f"fluid has run {hours:.0f} h.",
        figures={"running_h": round(hours, 1)},
        limits=("result_age_h", "adult_running_h", "child_running_h"),
        order_ids=tuple(order.id for order in late),
    )


def _old(last: timedelta, ordered: list[Order], limits: Limits) -> Finding:
    """It is not known how long it has run: only how old the last electrolytes are."""
    hours = _hours(last)
    return Finding(
        "warning" if hours > limits["old_result_h"] else "info",
        f"Maintenance is ordered and the last electrolytes are {hours:.0f} h old.",
        f"The newest sodium, potassium or creatinine is {hours:.0f} h old.",
        figures={"result_age_h": round(hours)},
        limits=("result_age_h", "old_result_h"),
        order_ids=tuple(order.id for order in ordered),
    )


def _hours(age: timedelta) -> float:
    return age / timedelta(hours=1)


def _is_late(order: Order, case: Case, limits: Limits) -> bool:
    ran, patient = running_h(order, case), case.patient
    if ran is None or not (is_upkeep(order) or order.purpose == "replacement"):
        return False
    added = order.mix is not None and order.mix.potassium_mmol_l >= limits["potassium_added_mmol_l"]
    soon = added or (patient.age_years is not None and patient.is_child())
    return ran > limits["child_running_h" if soon else "adult_running_h"]


def _ages(patient: Snapshot) -> Iterator[timedelta]:
    for name in ELECTROLYTES:
        for observation in patient.results.get(name, ())[:1]:
            age = observation.age(patient.now)
            yield timedelta(0) if age is None else age


def _newest(patient: Snapshot) -> timedelta | None:
    return min(_ages(patient), default=None)


def _has_fresh(patient: Snapshot, hours: float) -> bool:
    newest = _newest(patient)
    return newest is not None and newest <= timedelta(hours=hours)


def no_balance(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """A fluid that has run over a day with neither balance nor urine recorded."""
    ran, patient = running_h(situation.order, situation.case), situation.patient
    if ran is None or ran <= limits["running_h"]:
        return
    if patient.balance_24h_ml is not None or patient.urine_ml_h is not None:
        return
    yield Finding(
        "info",
        f"Fluid has run {ran:.0f} h and no balance is recorded.",
        "Neither a 24-hour balance nor urine is in the record.",
        figures={"running_h": round(ran, 1)},
        limits=("running_h",),
    )


RULES: Final = (
    Rule(
        id="ord-duplicate",
        title="Two similar fluids running together",
        trigger="Two continuous orders over 30 mL/h overlap in time: the same fluid with no "
        "different purpose, or two maintenance crystalloids of one tonicity class.",
        unless="both are meant, for instance on two lines; bags that carry different things "
        "(calcium, magnesium, phosphate, a drug) are not alike",
        do="Confirm both are meant; stop the older order if it was replaced.",
        evidence="An old order left running beside its replacement is a classic slip.",
        sources=(PRACTICE,),
        levels=("warning",),
        for_patient=duplicate,
    ),
    Rule(
        id="ord-no-labs-24h",
        title="No electrolytes in 24 hours",
        trigger="Maintenance or replacement has run over 24 h (12 h in a child, or with at least "
        "10 mmol/L potassium) and no sodium, potassium or creatinine was taken in 24 h. Where it "
        "is not known how long stated maintenance has run: the last is over 24 h old (info; "
        "warning over 48 h).",
        unless="it is end-of-life care",
        do="Request sodium, potassium, urea and creatinine, or state why they are not needed.",
        evidence="Daily electrolytes are the usual rule. A new order with no result at all is "
        "left quiet here: each rule that lacks a result says so itself.",
        sources=(ADULT_MONITORING, CHILD_FLUIDS),
        limits=(
            Limit("result_age_h", 24, "h", "age at which results are due again"),
            Limit("old_result_h", 48, "h", "age that nobody starts maintenance on", PRACTICE),
            Limit("adult_running_h", 24, "h", "time a fluid may run first"),
            Limit("child_running_h", 12, "h", "the same in a child or with potassium", PRACTICE),
            Limit("potassium_added_mmol_l", 10, "mmol/L", "potassium that was added", PRACTICE),
        ),
        levels=("warning", "info"),
        for_patient=no_labs,
    ),
    Rule(
        id="ord-no-balance",
        title="No fluid balance recorded",
        trigger="A fluid has run over 24 h with neither a 24-hour balance nor urine recorded.",
        unless="the chart is on paper",
        do="Record intake, output and weight.",
        evidence="Charted balances are often incomplete and still show direction.",
        sources=(ADULT_MONITORING,),
        limits=(Limit("running_h", 24, "h", "time a fluid may run first"),),
        levels=("info",),
        for_order=no_balance,
    ),
)
