"""One patient's line plan: solved, checked apart, explained, and what may be decided. Pure."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import partial

from app.cautions.phrases import listed, opening
from app.lines.model import Plan
from app.lines.solve import solve
from app.lines.steps import steps_of
from app.patient.case import Case
from app.review.lines.bedside.decide import Decision, decisions_of
from app.review.lines.bedside.instead import replacements_of
from app.review.lines.bedside.problem import Bedside, Means, bedside_of
from app.review.lines.planned import LinePlan, planned


@dataclass(frozen=True, slots=True)
class BedsidePlan:
    """A patient's plan. changes: what moves since a lumen failed, in sentences."""

    bedside: Bedside
    found: LinePlan
    decisions: tuple[Decision, ...] = ()
    changes: tuple[str, ...] = ()


def plan_bedside(case: Case, means: Means, failed: frozenset[str] = frozenset()) -> BedsidePlan:
    """The plan from a case's now over the shift. failed: lumens that are out of use.

    What runs stays where it is unless it must move, and doses stay where they were planned.
    """
    before = _before(case, means) if failed else None
    prefer = {} if before is None else {p.infusion_id: p.lumen_id for p in before.placements}
    bedside = bedside_of(case, means, failed=failed, prefer=prefer)
    found = planned(bedside.problem, instead_of=partial(replacements_of, case, means, bedside))
    plan = found.solution.plan
    if plan is not None:
        steps = steps_of(bedside.told, plan, flush_with=bedside.flush_with)
        found = replace(found, steps=steps)
    return BedsidePlan(
        bedside,
        found,
        tuple(decisions_of(bedside, found.solution)),
        tuple(_changes(bedside, before, plan)),
    )


def _before(case: Case, means: Means) -> Plan | None:
    """The plan as it was before anything failed."""
    return solve(bedside_of(case, means).problem).plan


def _changes(bedside: Bedside, before: Plan | None, after: Plan | None) -> Iterator[str]:
    """What is on another lumen than before, and that the rest stays."""
    if before is None or after is None:
        return
    was = {placed.infusion_id: placed.lumen_id for placed in before.placements}
    moved: dict[tuple[str, str], list[str]] = {}
    stay = []
    for placed in after.placements:
        there, name = was.get(placed.infusion_id, ""), bedside.item(placed.infusion_id).name
        if there == placed.lumen_id:
            stay.append(name)
        else:
            moved.setdefault((placed.lumen_id, there), []).append(name)
    for (here, there), names in moved.items():
        instead = f" instead of {lumen_words(there)}" if there else ""
        yield f"{opening(lumen_words(here))}{instead}: {listed(tuple(names))}."
    if stay:
        yield f"Where they were: {listed(tuple(stay))}."


def lumen_words(lumen_id: str) -> str:
    """A lumen by its site; a new cannula by its number."""
    number = lumen_id.removeprefix("new")
    return f"new cannula {number}" if number != lumen_id and number.isdigit() else lumen_id
