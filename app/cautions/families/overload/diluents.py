"""Water that hides in drugs."""

from collections.abc import Iterator
from typing import Final

from app.catalogue.fluid import ML_PER_L
from app.cautions.cited import FLUID_CREEP
from app.cautions.day_loads import litres_in_day
from app.cautions.phrases import infusion_name, listed, number
from app.cautions.rule import Finding, Limit, Limits, Rule
from app.cautions.shared.flow import carrier_day_ml
from app.cautions.shared.fluid_facts import child
from app.patient.case import Case
from app.patient.order import CoInfusion, Order

NAMED: Final = 3
# The largest bag a drug is usually made up in (common practice, no source).
DRUG_BAG_ML: Final = 250.0


def hidden_volume(case: Case, limits: Limits) -> Iterator[Finding]:
    """Drugs' carriers together bring a volume that nobody ordered as fluid."""
    drugs = [
        *((infusion_name(d), carrier_day_ml(d) or 0.0) for d in case.co_infusions if _counts(d)),
        *((_drug_in(o), _bags_ml(o, case)) for o in case.orders if _is_drug_bag(o)),
    ]
    total = sum(ml for _, ml in drugs)
    name = "adult_ml_day"
    limit = limits[name]
    if child(case.patient) and case.patient.weight_kg is not None:
        name = "child_ml_kg_day"
        limit = limits[name] * case.patient.weight_kg
    if total <= limit:
        return
    largest = sorted(drugs, key=lambda drug: drug[1], reverse=True)[:NAMED]
    yield Finding(
        "info",
        f"Drugs' own bags bring at least {number(total)} mL in 24 h, as written.",
        f"Most of it: {listed(tuple(name for name, _ in largest))}. A drug whose times "
        "are not written is counted once; the ledger of all by vein adds usual volumes.",
        figures={"drug_volume_ml_day": total},
        limits=(name,),
    )


def _counts(other: CoInfusion) -> bool:
    return other.kind == "drug" and not other.carried_by and carrier_day_ml(other) is not None


def _is_drug_bag(order: Order) -> bool:
    """A small bag that is there for the drug in it."""
    small = order.volume_ml is not None and order.volume_ml <= DRUG_BAG_ML
    return small and order.carries_a_drug and order.purpose in (None, "carrier")


def _bags_ml(order: Order, case: Case) -> float:
    return (litres_in_day(order, case) or 0.0) * ML_PER_L


def _drug_in(order: Order) -> str:
    return next(a.substance.replace("_", " ") for a in order.additives if not a.unread)


RULES: Final = (
    Rule(
        id="drug-diluent-na",
        title="Volume hidden in drugs",
        trigger="Drugs that run beside the fluids, and drugs in small bags ordered as carriers, "
        "bring over 500 mL in 24 h (child: 15 mL/kg).",
        unless="they are counted on the chart",
        do="Count them in the day's totals; ask pharmacy for smaller volumes.",
        evidence="A third of the volume in intensive care was carriers of drugs.",
        sources=(FLUID_CREEP,),
        limits=(
            Limit("adult_ml_day", 500, "mL/24 h", "worth counting in an adult"),
            Limit("child_ml_kg_day", 15, "mL/kg/24 h", "worth counting in a child"),
        ),
        levels=("info",),
        for_patient=hidden_volume,
    ),
)
