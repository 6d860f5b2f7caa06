"""The smallest set of infusions that the lumens given cannot carry together, proven by solving.

Every set that clashes needs one of those left out of each set that can be carried. So the fewest
that touch all of these are tried, until they cannot be carried themselves: no smaller set clashes.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from app.lines.model import MOST_NEW, Problem, Solution, new_lumens
from app.lines.solve import Carrying, NotProven

# Past these the search for the smallest gives way to one that merely loses none of its members.
# Questions asked, times the infusions each is about.
QUESTIONS: Final = 400
LARGEST: Final = 6
# The solver's own count of its work, for each of the two ways.
LIMIT: Final = 0.15


@dataclass(frozen=True, slots=True)
class Clash:
    """One set of infusions that clash, in the order given.

    smallest: no smaller set clashes. minimal: without any one of them the others can be carried.
    """

    infusions: tuple[str, ...]
    smallest: bool
    minimal: bool


NO_CLASH: Final = Clash((), smallest=True, minimal=True)


def with_clash(problem: Problem, solution: Solution) -> Solution:
    """A solution with what clashes on the lumens given, where they do not suffice.

    Where no number of cannulas helps, what clashes is looked for among what they would not carry.
    """
    if solution.feasible:
        return solution
    if solution.barred is not None:
        pair = solution.barred
        return replace(solution, clash=pair, clash_proven=True, beyond=pair)
    beyond, every = _beyond(problem, solution), tuple(problem.by_id())
    clash = smallest_clash(problem, beyond or every if solution.plan is None else every)
    return replace(
        solution,
        clash=clash.infusions,
        clash_proven=clash.minimal,
        beyond=beyond or clash.infusions,
    )


def _beyond(problem: Problem, solution: Solution) -> tuple[str, ...]:
    """What clashes with one new cannula fewer, or with all there may be; empty without any."""
    number = MOST_NEW if solution.plan is None else solution.plan.extra_cannulas - 1
    if not number or (solution.plan is None and not solution.proven_optimal):
        return ()
    wider = replace(problem, lumens=(*problem.lumens, *new_lumens(problem, number)))
    return smallest_clash(wider, tuple(problem.by_id())).infusions


def smallest_clash(problem: Problem, among: Sequence[str]) -> Clash:
    """Of some infusions the fewest that the lumens given cannot carry together.

    Empty when they carry them all. Past the limit one that is not proven, or all of them.
    """
    try:
        found = _fewest(Carrying(problem, limit=LIMIT), among)
    except NotProven:
        found = None
    return found or _thinned(Carrying(problem, limit=LIMIT), among)


def _fewest(carrying: Carrying, order: Sequence[str]) -> Clash | None:
    everything, left_out = frozenset(order), list[frozenset[str]]()
    for _ in range(QUESTIONS // max(1, len(order))):
        guess = _touching(left_out, order)
        if guess is None:
            return None
        most = carrying.with_all(guess, everything)
        if most is None:
            return Clash(_in_order(guess, order), smallest=True, minimal=True)
        if most == everything:
            return NO_CLASH
        left_out.append(everything - most)
    return None


def _touching(groups: Sequence[frozenset[str]], order: Sequence[str]) -> frozenset[str] | None:
    """The fewest that have a member in every group; None when that takes too many."""
    sizes = (_touching_of(groups, size, order) for size in range(LARGEST + 1))
    return next((found for found in sizes if found is not None), None)


def _touching_of(
    groups: Sequence[frozenset[str]], size: int, order: Sequence[str]
) -> frozenset[str] | None:
    if not groups:
        return frozenset()
    if not size:
        return None
    for name in (name for name in order if name in groups[0]):
        rest = _touching_of([group for group in groups if name not in group], size - 1, order)
        if rest is not None:
            return rest | {name}
    return None


def _thinned(carrying: Carrying, order: Sequence[str]) -> Clash:
    """Leave out each in turn as long as the rest still clashes; what is left needs all of itself.

    An answer that is not proven keeps the infusion in question.
    """
    kept, minimal = frozenset(order), True
    for name in reversed(order):
        without = kept - {name}
        try:
            if carrying.with_all(without, without) is None:
                kept = without
        except NotProven:
            minimal = False
    return Clash(_in_order(kept, order), smallest=False, minimal=minimal)


def _in_order(names: frozenset[str], order: Sequence[str]) -> tuple[str, ...]:
    return tuple(name for name in order if name in names)
