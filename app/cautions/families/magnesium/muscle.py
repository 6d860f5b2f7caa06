"""Magnesium weakens muscle: with myasthenia, or a drug that paralyses."""

from collections.abc import Iterator
from typing import Final

from app.catalogue.source import Source
from app.cautions.phrases import number
from app.cautions.rule import Finding, Level, Limit, Limits, Rule
from app.cautions.shared.fluid_facts import on_drug
from app.cautions.shared.magnesium_given import magnesium_given
from app.patient.case import Case

MAGNESIUM_LABEL: Final = Source("US magnesium sulfate injection label", seen=False)
BLOCKER: Final = "neuromuscular_blocker"
VENTILATED: Final = ("ICU", "theatre")


def magnesium_with_weak_muscle(case: Case, limits: Limits) -> Iterator[Finding]:
    """More than 2 g of magnesium with myasthenia or a neuromuscular blocker."""
    given = magnesium_given(case)
    if not given:
        return
    total = sum(source.mmol or 0.0 for source in given)
    unknown = all(source.mmol is None for source in given)
    if not unknown and total <= limits["magnesium_mmol"]:
        return
    myasthenia = "myasthenia" in case.patient.conditions
    if not (myasthenia or on_drug(case, BLOCKER) or _runs(case, BLOCKER)):
        return
    amount = f"{number(total)} mmol" if total else "amount not told"
    what = "myasthenia: it may stop breathing" if myasthenia else "a paralysing drug: it lasts"
    yield Finding(
        _level(case, myasthenia),
        f"Magnesium ({amount}) and {what}{'' if myasthenia else ' longer'}.",
        f"Magnesium ({given[0].name}), {amount}; "
        f"{'myasthenia recorded' if myasthenia else 'a neuromuscular blocker is given'}; setting: "
        f"{case.patient.setting or 'not told'}.",
        figures={"magnesium": amount},
        limits=("magnesium_mmol",),
        order_ids=tuple(source.order_id for source in given if source.order_id),
    )


def _runs(case: Case, mark: str) -> bool:
    return any(mark in other.contents for other in case.co_infusions)


def _level(case: Case, myasthenia: bool) -> Level:
    """Worst where nobody breathes for the patient."""
    return "critical" if myasthenia and case.patient.setting not in VENTILATED else "warning"


RULES: Final = (
    Rule(
        id="mg-nmb",
        title="Magnesium with weak or paralysed muscle",
        trigger="More than 8 mmol (2 g) of magnesium, or an amount not told, and myasthenia or a "
        "neuromuscular blocker: critical in myasthenia outside intensive care and theatre.",
        unless="the dose is 8 mmol or less",
        do="In myasthenia ask for another drug; with a blocker give less and watch the twitch.",
        evidence="Magnesium blocks the release of acetylcholine. The label warns of both; a small "
        "dose for a low magnesium is tolerated.",
        sources=(MAGNESIUM_LABEL,),
        limits=(Limit("magnesium_mmol", 8.2, "mmol", "2 g of magnesium sulfate"),),
        levels=("critical", "warning"),
        for_patient=magnesium_with_weak_muscle,
    ),
)
