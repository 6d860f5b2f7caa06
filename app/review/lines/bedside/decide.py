"""Pairs that a pharmacist or a prescriber may settle, and what the plan then is. Pure."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

from app.cautions.phrases import opening
from app.lines.model import KeepApart, Plan, Problem, Solution
from app.lines.solve import solve
from app.review.lines.bedside.problem import Bedside
from app.review.pairs.apart import NOBODY_TOLD, NOT_CONFIRMED

# Each is solved again; more would be a list nobody reads.
AT_MOST: Final = 3
LIMIT: Final = 0.1


@dataclass(frozen=True, slots=True)
class Decision:
    """Two kept apart for want of data or of a confirmed condition. sources: their ids among what
    runs; plan: the best once they may share a lumen.
    """

    sources: tuple[str, str]
    change: str
    why: str
    plan: Plan


def decisions_of(bedside: Bedside, solution: Solution) -> Iterator[Decision]:
    """Of the pairs in a clash those that a named person may settle, where that helps."""
    if solution.feasible or solution.barred is not None:
        return
    clash, told = set(solution.clash), set[tuple[str, str]]()
    for rule in bedside.problem.keep_apart:
        sources = (bedside.item(rule.pair[0]).source, bedside.item(rule.pair[1]).source)
        if not clash.issuperset(rule.pair) or sources in told or not _is_open(rule):
            continue
        told.add(sources)
        found = _decided(bedside, solution, rule, sources)
        if found is not None:
            yield found
        if len(told) == AT_MOST:
            return


def _is_open(rule: KeepApart) -> bool:
    return rule.scope == "lumen" and (rule.why.startswith(NOBODY_TOLD) or NOT_CONFIRMED in rule.why)


def _decided(
    bedside: Bedside, solution: Solution, rule: KeepApart, sources: tuple[str, str]
) -> Decision | None:
    plan = solve(_without(bedside, sources), limit=LIMIT).plan
    most = solution.plan.extra_cannulas if solution.plan is not None else None
    if plan is None or (most is not None and plan.extra_cannulas >= most):
        return None
    one, other = (bedside.item(name).name for name in rule.pair)
    change = (
        f"{opening(one)} with {other}: a pharmacist may know whether they may share a lumen, and "
        "sign it"
    )
    return Decision(sources, change, rule.why, plan)


def _without(bedside: Bedside, sources: tuple[str, str]) -> Problem:
    """The problem as if these two might share a lumen."""
    settled = set(sources)
    kept = (
        rule
        for rule in bedside.problem.keep_apart
        if {bedside.item(name).source for name in rule.pair} != settled
    )
    return replace(bedside.problem, keep_apart=tuple(kept))
