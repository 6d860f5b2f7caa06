"""The smallest set of infusions that the lumens given cannot carry together, proven by solving.

One without a place, or two that never share the only lumen they have, is seen without a search.
Every larger set needs one of those left out of each set that can be carried. So the fewest that
touch all of these are tried, until they cannot be carried themselves: no smaller set clashes.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from math import inf
from typing import Final

from app.lines.laid import taken
from app.lines.meeting import clashing, may_have, starts
from app.lines.model import MOST_NEW, Infusion, Problem, Solution, new_lumens
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

    Where no number of cannulas helps, of sets alike in size one of what they would not carry.
    """
    if solution.feasible:
        return solution
    if solution.barred is not None:
        pair = solution.barred
        return replace(solution, clash=pair, clash_proven=True, beyond=pair)
    beyond = _beyond(problem, solution)
    clash = _named(problem, beyond if solution.plan is None else ())
    if solution.plan is not None and solution.plan.extra_cannulas == 1:
        beyond = clash.infusions
    return replace(solution, clash=clash.infusions, clash_proven=clash.minimal, beyond=beyond)


def _named(problem: Problem, beyond: Sequence[str]) -> Clash:
    """The smallest that clashes, of those past all cannulas where none is smaller."""
    every = tuple(problem.by_id())
    if not beyond:
        return smallest_clash(problem, every)
    found = smallest_clash(problem, beyond)
    smaller = _smallest(problem, every) if len(found.infusions) > 1 else None
    if smaller is not None and len(smaller.infusions) < len(found.infusions):
        return smaller
    return found


def _beyond(problem: Problem, solution: Solution) -> tuple[str, ...]:
    """What clashes with one new cannula fewer, or with all there may be; empty where that is not
    soon found, or there are none.
    """
    number = MOST_NEW if solution.plan is None else solution.plan.extra_cannulas - 1
    if not number or (solution.plan is None and not solution.proven_optimal):
        return ()
    wider = replace(problem, lumens=(*problem.lumens, *new_lumens(problem, number)))
    found = _smallest(wider, tuple(problem.by_id()))
    return () if found is None else found.infusions


def smallest_clash(problem: Problem, among: Sequence[str]) -> Clash:
    """Of some infusions the fewest that the lumens given cannot carry together.

    Empty when they carry them all. Past the limit one that is not proven, or all of them.
    """
    return _smallest(problem, among) or _thinned(Carrying(problem, limit=LIMIT), among)


def _smallest(problem: Problem, among: Sequence[str]) -> Clash | None:
    """The fewest; None past the limit."""
    seen = next(_seen(problem, among), None)
    if seen is not None:
        return Clash(seen, smallest=True, minimal=True)
    try:
        return _fewest(Carrying(problem, limit=LIMIT), among)
    except NotProven:
        return None


def _seen(problem: Problem, order: Sequence[str]) -> Iterator[tuple[str, ...]]:
    """Each that has no place or no time, then each two that never share their only lumen."""
    by_id, apart = problem.by_id(), clashing(problem)
    only: dict[str, str] = {}
    for name in order:
        places = [lumen.id for lumen in problem.lumens if may_have(by_id[name], lumen)]
        if not places or not (by_id[name].continuous or starts(problem, by_id[name])):
            yield (name,)
        elif len(places) == 1:
            only[name] = places[0]
    for one, other in combinations(only, 2):
        clash = only[one] == only[other] and frozenset((one, other)) in apart
        if clash and _never_in_turn(problem, by_id[one], by_id[other]):
            yield one, other


def _never_in_turn(problem: Problem, one: Infusion, other: Infusion) -> bool:
    """True for two that clash and of which neither can wait for the other on one lumen."""
    if one.continuous and other.continuous:
        return True
    if one.continuous or other.continuous:
        waiting, timed = (one, other) if one.continuous else (other, one)
        return _shortest_min(problem, timed) > _most_min(waiting)
    return not any(
        starts(problem, first)[0] + (first.duration_min or 0) + problem.flush_min
        <= starts(problem, second)[-1]
        for first, second in ((one, other), (other, one))
    )


def _shortest_min(problem: Problem, timed: Infusion) -> int:
    """The shortest it may stop another: least at an end of the plan, where flushes are cut."""
    possible = starts(problem, timed)
    spans = (taken(problem, timed, at) for at in (possible[0], possible[-1]))
    return min(span.end_min - span.start_min for span in spans)


def _most_min(waiting: Infusion) -> float:
    if not waiting.may_pause:
        return 0
    return inf if waiting.max_pause_min is None else waiting.max_pause_min


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
    """Leave out half, a quarter, at last each in turn as long as the rest still clashes; what is
    left needs all of itself.

    An answer that is not proven keeps the infusions in question.
    """
    kept, minimal, size = frozenset(order), True, max(1, len(order) // 2)
    while size:
        minimal = True
        last_first = [name for name in reversed(order) if name in kept]
        for at in range(0, len(last_first), size):
            without = kept - frozenset(last_first[at : at + size])
            try:
                if carrying.with_all(without, without) is None:
                    kept = without
            except NotProven:
                minimal = False
        size //= 2
    return Clash(_in_order(kept, order), smallest=False, minimal=minimal)


def _in_order(names: frozenset[str], order: Sequence[str]) -> tuple[str, ...]:
    return tuple(name for name in order if name in names)
