"""One patient's line plan: solved, checked apart, explained, and what may be decided. Pure."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import partial

from app.cautions.phrases import listed, opening
from app.lines.flush import SALINE
from app.lines.meeting import clashing
from app.lines.model import Plan
from app.lines.solve import solve
from app.lines.steps import Step, steps_of
from app.patient.case import Case
from app.review.lines.bedside.decide import Decision, decisions_of
from app.review.lines.bedside.doing.between import flushed_between
from app.review.lines.bedside.doing.flushing import Flushing, settings_of
from app.review.lines.bedside.doing.keeping import with_its_lumen
from app.review.lines.bedside.doing.nearest import nearest
from app.review.lines.bedside.doing.rinsing import rinsed
from app.review.lines.bedside.doing.surge import surge_harms
from app.review.lines.bedside.doing.turns import in_turn
from app.review.lines.bedside.instead import replacements_of
from app.review.lines.bedside.problem import Bedside, Means, bedside_of
from app.review.lines.leaning import leaning_of
from app.review.lines.planned import LinePlan, planned
from app.review.pairs.apart import is_newborn
from app.review.pairs.things import things_of


@dataclass(frozen=True, slots=True)
class BedsidePlan:
    """A patient's plan. changes: what moves since a lumen failed, in sentences. leaning: on whose
    word two share a lumen, where pharmacy confirms it first or a local note counts.
    """

    bedside: Bedside
    found: LinePlan
    decisions: tuple[Decision, ...] = ()
    changes: tuple[str, ...] = ()
    leaning: tuple[str, ...] = ()


def plan_bedside(case: Case, means: Means, failed: frozenset[str] = frozenset()) -> BedsidePlan:
    """The plan from a case's now over the shift. failed: lumens that are out of use.

    What runs stays where it is unless it must move, and doses stay where they were planned.
    """
    before = _before(case, means) if failed else None
    prefer = {} if before is None else {p.infusion_id: p.lumen_id for p in before.placements}
    bedside = bedside_of(case, means, failed=failed, prefer=prefer)
    found = planned(bedside.problem, instead_of=partial(replacements_of, case, means, bedside))
    found = _as_a_nurse_would(bedside, found)
    plan = found.solution.plan
    if plan is not None:
        found = replace(found, steps=_steps(bedside, plan, case))
    return BedsidePlan(
        bedside,
        found,
        tuple(decisions_of(bedside, found.solution)),
        tuple(_changes(bedside, before, plan)),
        () if plan is None else _leaning(case, means, bedside, plan),
    )


def _leaning(case: Case, means: Means, bedside: Bedside, plan: Plan) -> tuple[str, ...]:
    running = {thing.id: thing for thing in things_of(case)}
    things = {item.id: running[item.source] for item in bedside.items if item.source in running}
    return leaning_of(plan, things, means.book, newborn=is_newborn(case) is True)


def _as_a_nurse_would(bedside: Bedside, found: LinePlan) -> LinePlan:
    """Of plans that cost no more the one that leaves vasoactive drugs where they run, and gives
    doses at their times.
    """
    solution = with_its_lumen(bedside.problem, bedside.told, found.solution)
    if solution.plan is None:
        return found
    plan = nearest(bedside.problem, solution.plan, _due(bedside))
    return replace(found, solution=replace(solution, plan=plan))


def _due(bedside: Bedside) -> Mapping[str, int]:
    """When each dose is due; blood and bags are begun as soon as they can be."""
    by_id = bedside.problem.by_id()
    return {
        item.id: item.due_min for item in bedside.items if by_id[item.id].kind == "intermittent"
    }


def _steps(bedside: Bedside, plan: Plan, case: Case) -> tuple[Step, ...]:
    """What is done, with this patient's flushes, in the order in which it is safe."""
    steps = steps_of(bedside.told, plan, flush_with=bedside.flush_with)
    surging = {item.id for item in bedside.items if surge_harms(item.of) and item.must_run}
    flushing = Flushing(
        bedside.told, settings_of(case.patient), surging.__contains__, lumen_words
    )  # fmt: skip
    urgent = {item.id for item in bedside.items if item.runs and item.must_run}
    lumens = [lumen.id for lumen in bedside.told.lumens]
    needs = {**dict.fromkeys(bedside.not_glucose, SALINE), **bedside.flush_with}
    between = flushed_between(steps, clashing(bedside.told), flushing.flush)
    twice = rinsed(flushing.of(plan, between), needs, flushing.flush)
    return in_turn(flushing.held_back(plan, twice), lumens, urgent.__contains__)


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
    for (here, there), every in moved.items():
        names = dict.fromkeys(_drug_of(name) for name in every)
        given = there in {lumen.id for lumen in bedside.problem.lumens} | bedside.failed
        instead = f" instead of {lumen_words(there)}" if given else ""
        yield f"{opening(lumen_words(here))}{instead}: {listed(tuple(names))}."
    if stay:
        names = dict.fromkeys(_drug_of(name) for name in stay)
        yield f"Where they were: {listed(tuple(names))}."


def _drug_of(name: str) -> str:
    """Without which of its doses it is."""
    return name.partition(", dose ")[0]


def lumen_words(lumen_id: str) -> str:
    """A lumen by its site; a new cannula by its number."""
    number = lumen_id.removeprefix("new")
    return f"new cannula {number}" if number != lumen_id and number.isdigit() else lumen_id
