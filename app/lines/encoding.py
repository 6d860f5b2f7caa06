"""A problem in the solver's terms: which lumen, which step, and what may not meet there.

The empty model comes from app/lines/solve.py, which alone loads the solver.
"""

from itertools import combinations, pairwise
from typing import Any, Final

from app.lines.meeting import carriers, clashing, cliques, may_have, starts
from app.lines.model import Infusion, Lumen, Problem

# A model, a term or a literal of the solver, whose types are not told.
Term = Any
# A group of fewer says no more than its pairs do.
GROUP: Final = 3


class Encoded:
    """A problem on a set of lumens.

    on: for each infusion a choice by lumen; steps and at: when a timed one starts, in steps and in
    minutes; kept: whether it is given at all (always, unless optional).
    """

    def __init__(
        self, built: Term, problem: Problem, lumens: tuple[Lumen, ...], *, optional: bool = False
    ) -> None:
        self.built, self.problem, self.lumens = built, problem, lumens
        self.by_id, self.apart = problem.by_id(), clashing(problem)
        self.on: dict[str, dict[str, Term]] = {}
        self.kept: dict[str, Term] = {}
        self.steps: dict[str, Term] = {}
        self.at: dict[str, Term] = {}
        self._first: dict[tuple[str, str], Term] = {}
        self.timed = [one for one in problem.infusions if not one.continuous]
        self.starts = {one.id: starts(problem, one) for one in self.timed}
        self._place_in_order = {name: place for place, name in enumerate(self.starts)}
        for one in problem.infusions:
            self._place(one, optional)
        self._part()
        self._in_turn_by_lumen()
        self._carry()
        self._limit_at_once()
        self._order_alike()

    def clash(self, one: Infusion, other: Infusion) -> bool:
        """True when two infusions must not meet on a lumen."""
        return frozenset((one.id, other.id)) in self.apart

    def shared(self, one: Infusion, other: Infusion) -> list[tuple[Term, Term]]:
        """The two choices of each lumen that both may have."""
        mine, theirs = self.on[one.id], self.on[other.id]
        return [(here, theirs[lumen]) for lumen, here in mine.items() if lumen in theirs]

    def before(self, one: str, other: str) -> Term:
        """A literal: one timed infusion starts before another; at one minute by their order."""
        if self._place_in_order[one] > self._place_in_order[other]:
            return self.before(other, one).negated()
        if (one, other) not in self._first:
            first = self._first[one, other] = self.built.new_bool_var("")
            mine, theirs = self.at[one], self.at[other]
            self.built.add(mine <= theirs).only_enforce_if(first)
            self.built.add(mine > theirs).only_enforce_if(first.negated())
        return self._first[one, other]

    def moves(self) -> Term:
        """How many infusions leave the lumen that they run on now."""
        here = (self.on[one.id].get(one.stays_on or "") for one in self.problem.infusions)
        return sum(1 - stays for stays in here if stays is not None)

    def spread(self) -> Term:
        """How many lumens the doses of each order need, in all."""
        orders: dict[str, list[Infusion]] = {}
        for one in self.problem.infusions:
            if one.order_id is not None:
                orders.setdefault(one.order_id, []).append(one)
        return sum(
            self._used(lumen, doses)
            for doses in orders.values()
            if len(doses) > 1
            for lumen in self.lumens
        )

    def _used(self, lumen: Lumen, doses: list[Infusion]) -> Term:
        used = self.built.new_bool_var("")
        for dose in doses:
            if lumen.id in self.on[dose.id]:
                self.built.add_implication(self.on[dose.id][lumen.id], used)
        return used

    def _place(self, one: Infusion, optional: bool) -> None:
        possible = self.starts.get(one.id, range(1))
        self.on[one.id] = {
            lumen.id: self.built.new_bool_var("")
            for lumen in self.lumens
            if possible and may_have(one, lumen)
        }
        self.kept[one.id] = self.built.new_int_var(0 if optional else 1, 1, "")
        self.built.add(self.kept[one.id] == sum(self.on[one.id].values()))
        if not one.continuous and possible:
            first, off_grid_min = divmod(possible[0], possible.step)
            self.steps[one.id] = self.built.new_int_var(first, first + len(possible) - 1, "")
            self.at[one.id] = self.steps[one.id] * possible.step + off_grid_min

    def _part(self) -> None:
        """Two that clash: never on one lumen, or in turn; or the one stops for the other."""
        for one, other in combinations(self.problem.infusions, 2):
            if not self.clash(one, other):
                continue
            carried = other.id in carriers(one, self.by_id) or one.id in carriers(other, self.by_id)
            goes_on = any(each.continuous and not each.may_pause for each in (one, other))
            if carried or goes_on or (one.continuous and other.continuous):
                for here in self.shared(one, other):
                    self.built.add_at_most_one(here)
            elif not one.continuous and not other.continuous:
                self._in_turn(one, other)

    def _in_turn(self, one: Infusion, other: Infusion) -> None:
        for here in self.shared(one, other):
            first = self.before(one.id, other.id)
            for early, late, order in ((one, other, first), (other, one, first.negated())):
                end = self.at[early.id] + self._length(early)
                self.built.add(end <= self.at[late.id]).only_enforce_if(*here, order)

    def _length(self, timed: Infusion) -> int:
        return (timed.duration_min or 0) + self.problem.flush_min

    def _in_turn_by_lumen(self) -> None:
        """What the pairs say, once more for each group that clashes throughout: proves sooner."""
        for group in cliques(self.timed, self.apart):
            for lumen in self.lumens:
                there = [one for one in group if lumen.id in self.on[one.id]]
                if len(there) >= GROUP:
                    self.built.add_no_overlap([self._interval(one, lumen) for one in there])

    def _interval(self, timed: Infusion, lumen: Lumen) -> Term:
        return self.built.new_optional_fixed_size_interval_var(
            self.at[timed.id], self._length(timed), self.on[timed.id][lumen.id], ""
        )

    def _carry(self) -> None:
        """What another carries is on its lumen, where that one is given."""
        for one in self.problem.infusions:
            carrier = self.by_id.get(one.beside or "")
            if carrier is None:
                continue
            for lumen, here in self.on[one.id].items():
                there = [self.on[carrier.id][lumen]] if lumen in self.on[carrier.id] else []
                self.built.add_bool_or(here.negated(), self.kept[carrier.id].negated(), *there)

    def _limit_at_once(self) -> None:
        """At most so many connected to a lumen at one time."""
        most = self.problem.most_at_once
        if most is None:
            return
        for lumen in self.lumens:
            there = [one for one in self.problem.infusions if lumen.id in self.on[one.id]]
            spans = [self._connected(one, lumen) for one in there]
            self.built.add_cumulative(spans, [1] * len(spans), most)

    def _connected(self, one: Infusion, lumen: Lumen) -> Term:
        start, length = 0, self.problem.horizon_min
        if not one.continuous:
            start, length = self.at[one.id], one.duration_min or 0
        here = self.on[one.id][lumen.id]
        return self.built.new_optional_fixed_size_interval_var(start, length, here, "")

    def _order_alike(self) -> None:
        """Of lumens that differ in nothing the first is used first: no plan is sought twice."""
        asked_for = {one.stays_on for one in self.problem.infusions}
        alike: dict[tuple[str, str], list[str]] = {}
        for lumen in self.lumens:
            if lumen.id not in asked_for:
                alike.setdefault((lumen.site, lumen.role), []).append(lumen.id)
        for first, second in (pair for names in alike.values() for pair in pairwise(names)):
            used: list[Term] = []
            for one in self.problem.infusions:
                choice = self.on[one.id]
                if second in choice:
                    self.built.add_bool_or(choice[second].negated(), *used)
                if first in choice:
                    used.append(choice[first])
