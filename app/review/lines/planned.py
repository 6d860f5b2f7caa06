"""A line plan for a request: found, checked apart, and explained where lumens are short."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from app.lines.check import faults
from app.lines.clash import with_clash
from app.lines.model import KeepApart, Plan, Problem, Solution
from app.lines.solve import solve
from app.lines.steps import Step, steps_of
from app.lines.ways import Replacement, Way, ways_out
from app.review.lines.asked import LinesAsked, read_lines
from app.review.predict.notes import Note

# From the names of infusions by their id to what must be kept apart and why.
KeepApartOf = Callable[[Mapping[str, str]], tuple[KeepApart, ...]]
# From a plan and the names to on whose word infusions share a lumen, in sentences.
LeaningOf = Callable[[Plan, Mapping[str, str]], tuple[str, ...]]
# From the infusions that clash to what might be given instead of each.
InsteadOf = Callable[[Sequence[str]], Iterable[Replacement]]


@dataclass(frozen=True, slots=True)
class LinePlan:
    """What was asked and what came of it.

    withheld: what the independent check found wrong with the plan, which is then not shown.
    """

    problem: Problem
    solution: Solution
    steps: tuple[Step, ...] = ()
    ways: tuple[Way, ...] = ()
    withheld: tuple[str, ...] = ()
    notes: tuple[Note, ...] = ()


def on_nothing(_: Plan, __: Mapping[str, str]) -> tuple[str, ...]:
    """What is said where no table was asked."""
    return ()


def plan_lines(
    request: Mapping[str, Any], *, keep_apart_of: KeepApartOf, leaning_of: LeaningOf = on_nothing
) -> LinePlan:
    """The plan of one request (INTERFACES: POST /api/line-plan).

    keep_apart_of, leaning_of: what the table of pairs says, asked only where the request wants it;
    what shares a lumen by a word from memory or a local note is among the notes. Raises
    InputError or InputErrors, by field, for what cannot be read.
    """
    asked = read_lines(request)
    made = planned(with_catalogue(asked, keep_apart_of), notes=asked.notes)
    if made.solution.plan is None or not asked.use_catalogue:
        return made
    names = {infusion.id: infusion.name for infusion in made.problem.infusions}
    told = (Note("infusions", "", text) for text in leaning_of(made.solution.plan, names))
    return replace(made, notes=(*made.notes, *told))


def with_catalogue(asked: LinesAsked, keep_apart_of: KeepApartOf) -> Problem:
    """The problem, with the table's pairs where they are wanted; of two alike the given one stays,
    unless the table is stricter.
    """
    problem = asked.problem
    if not asked.use_catalogue:
        return problem
    names = {infusion.id: infusion.name for infusion in problem.infusions}
    given = {(frozenset(rule.pair), rule.scope) for rule in problem.keep_apart}
    added = (
        rule
        for rule in keep_apart_of(names)
        if given.isdisjoint((frozenset(rule.pair), scope) for scope in (rule.scope, "patient"))
    )
    return replace(problem, keep_apart=(*problem.keep_apart, *added))


def planned(
    problem: Problem, *, notes: tuple[Note, ...] = (), instead_of: InsteadOf | None = None
) -> LinePlan:
    """The best plan of a problem, never shown unless the independent check passes it.

    instead_of: what else may be given, sought only where lumens are short.
    """
    found = solve(problem)
    wrong = faults(problem, found.plan) if found.plan is not None else ()
    if wrong:
        held = Solution(None, feasible=False, proven_optimal=False)
        return LinePlan(problem, held, withheld=wrong, notes=notes)
    solution = with_clash(problem, found)
    steps = steps_of(problem, solution.plan) if solution.plan is not None else ()
    replacements = () if solution.feasible or instead_of is None else instead_of(solution.clash)
    ways = ways_out(problem, solution, replacements)
    return LinePlan(problem, solution, steps, ways, notes=notes)
