"""Water that hides in drugs."""

from collections.abc import Iterator
from typing import Final

from app.cautions.cited import FLUID_CREEP
from app.cautions.phrases import infusion_name, listed, number
from app.cautions.rule import Finding, Limit, Limits, Rule
from app.cautions.shared.flow import carrier_day_ml
from app.cautions.shared.fluid_facts import child
from app.patient.case import Case
from app.patient.order import CoInfusion

NAMED: Final = 3


def hidden_volume(case: Case, limits: Limits) -> Iterator[Finding]:
    """Drugs' carriers together bring a volume that nobody ordered as fluid."""
    drugs = [other for other in case.co_infusions if _counts(other)]
    total = sum(carrier_day_ml(other) or 0.0 for other in drugs)
    name = "adult_ml_day"
    limit = limits[name]
    if child(case.patient) and case.patient.weight_kg is not None:
        name = "child_ml_kg_day"
        limit = limits[name] * case.patient.weight_kg
    if total <= limit:
        return
    largest = sorted(drugs, key=lambda d: carrier_day_ml(d) or 0.0, reverse=True)[:NAMED]
    yield Finding(
        "info",
        f"Drugs bring {number(total)} mL in 24 h on top of the fluid orders.",
        f"Most of it: {listed(tuple(infusion_name(drug) for drug in largest))}. A drug whose times "
        "are not written is counted once.",
        figures={"drug_volume_ml_day": total},
        limits=(name,),
    )


def _counts(other: CoInfusion) -> bool:
    return other.kind == "drug" and not other.carried_by and carrier_day_ml(other) is not None


RULES: Final = (
    Rule(
        id="drug-diluent-na",
        title="Volume hidden in drugs",
        trigger="Drugs that run beside the fluids bring over 500 mL in 24 h (child: 15 mL/kg).",
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
