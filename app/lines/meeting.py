"""What may meet on one lumen, which lumens an infusion may have, and when it may start."""

from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations

from app.lines.model import Infusion, KeepApart, Lumen, Problem

Pair = frozenset[str]


def barred(problem: Problem) -> KeepApart | None:
    """The first pair that must not both be given to this patient; None when there is none."""
    present = set(problem.by_id())
    for rule in problem.keep_apart:
        if rule.scope == "patient" and present.issuperset(rule.pair):
            return rule
    return None


def clashing(problem: Problem) -> frozenset[Pair]:
    """Every two infusions that must not run on one lumen at one time.

    Kept apart, or one is exclusive and does not name the other. What is carried by another
    clashes with all that its carrier clashes with, since the carrier stops for it.
    """
    told = {frozenset(rule.pair) for rule in problem.keep_apart}
    found = {
        frozenset((one.id, other.id))
        for one, other in combinations(problem.infusions, 2)
        if {one.id, other.id} in told or _alone(one, other) or _alone(other, one)
    }
    by_id = problem.by_id()
    carried = {
        frozenset((one.id, other.id))
        for one in problem.infusions
        for carrier in carriers(one, by_id)
        for other in problem.infusions
        if other is not one and frozenset((carrier, other.id)) in found
    }
    return frozenset(found | carried)


def _alone(one: Infusion, other: Infusion) -> bool:
    return one.exclusive and other.id not in one.may_share_with_exclusive


def carriers(infusion: Infusion, by_id: Mapping[str, Infusion]) -> Iterator[str]:
    """The id of what carries an infusion, of what carries that, and so on."""
    seen, carrier = {infusion.id}, infusion.beside
    while carrier is not None and carrier in by_id and carrier not in seen:
        yield carrier
        seen.add(carrier)
        carrier = by_id[carrier].beside


def may_have(infusion: Infusion, lumen: Lumen) -> bool:
    """True when the lumen is central where that is needed, and not kept for another kind."""
    if infusion.needs_central and lumen.site != "central":
        return False
    return lumen.role in ("", infusion.role)


def window(problem: Problem, infusion: Infusion) -> tuple[int, int]:
    """The first minute a timed infusion may run and the last it may end, within the plan."""
    latest = problem.horizon_min if infusion.latest_end_min is None else infusion.latest_end_min
    return max(0, infusion.earliest_start_min), min(latest, problem.horizon_min)


def starts(problem: Problem, infusion: Infusion) -> range:
    """Every minute at which a timed infusion may start; empty when it fits nowhere.

    Multiples of the step; where its window leaves room for none of them, as early as it may.
    """
    earliest, latest = window(problem, infusion)
    step, last = problem.step_min, latest - (infusion.duration_min or 0)
    first = -(-earliest // step) * step
    return range(first, last + 1, step) if first <= last else range(earliest, last + 1, step)


def cliques(infusions: Sequence[Infusion], apart: frozenset[Pair]) -> Iterator[list[Infusion]]:
    """For each infusion a group around it, grown while all in it clash with each other."""
    told: set[frozenset[str]] = set()
    for first in infusions:
        group = [first]
        for other in infusions:
            if all(frozenset((other.id, member.id)) in apart for member in group):
                group.append(other)
        names = frozenset(one.id for one in group)
        if names not in told:
            told.add(names)
            yield group
