"""A lumen at once for a vasoactive drug that lost its own; fluids wait for the cannula. Pure."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from app.lines.check import faults
from app.lines.model import Lumen, Plan, Problem, Role, Solution
from app.lines.solve import solve

VASOACTIVE: Final[Role] = "vasoactive"


def with_its_lumen(problem: Problem, told: Problem, solution: Solution) -> Solution:
    """The solution in which what is vasoactive and runs stays where it is, or else moves to a
    lumen there is: as long as no more cannulas are needed. told: where everything runs now.
    """
    if solution.plan is None:
        return solution
    for kept in _worth_keeping(problem, told, solution.plan):
        found = solve(_reserved(problem, kept))
        better = found.plan
        if better is None or better.extra_cannulas > solution.plan.extra_cannulas:
            continue
        if not faults(problem, better):
            return replace(solution, plan=better, proven_optimal=found.proven_optimal)
    return solution


def _worth_keeping(problem: Problem, told: Problem, plan: Plan) -> Iterator[Lumen]:
    """Lumens to keep for it: its own, or, where it would wait for a new cannula, any there is."""
    given = {lumen.id: lumen for lumen in problem.lumens if not lumen.role}
    where = {placed.infusion_id: placed.lumen_id for placed in plan.placements}
    now = {one.id: one.stays_on for one in told.infusions if one.role == VASOACTIVE}
    lost = [name for name, lumen in now.items() if lumen is not None and where[name] != lumen]
    own = [given[lumen] for name in lost if (lumen := now[name]) in given and lumen]
    yield from dict.fromkeys(own)
    taken = {lumen.id for lumen in problem.lumens}
    if not own and any(where[name] not in taken for name in lost):
        yield from given.values()


def _reserved(problem: Problem, kept: Lumen) -> Problem:
    lumens = (replace(one, role=VASOACTIVE) if one == kept else one for one in problem.lumens)
    return replace(problem, lumens=tuple(lumens))
