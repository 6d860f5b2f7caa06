"""The line plan as a plain mixed-integer program with big constants: the peer of the benchmark.

The same model as app/lines, written apart from it: which lumen, which step, who comes first, and
for each infusion that stops a fluid whether it begins a pause or sets on before another has ended.
"""

from collections import defaultdict
from itertools import combinations, permutations

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_array

from app.lines.meeting import clashing, may_have, starts
from app.lines.model import MOST_NEW, Infusion, Lumen, Problem, new_lumens

Row = dict[int, float]
INFEASIBLE = 2


def best_cost(problem: Problem, *, limit_s: float) -> tuple[int, int, int] | str | None:
    """New cannulas, interruptions, minutes; None when there is no plan; "not proven" past a limit
    on each number of cannulas.
    """
    for extra in range(MOST_NEW + 1):
        program = _Program(problem, (*problem.lumens, *new_lumens(problem, extra)))
        if not program.possible:
            continue
        cost = program.solved(limit_s)
        if cost == "not proven":
            return cost
        if cost is not None:
            return (extra, *cost)
    return None


class _Program:
    """Variables, rows and bounds."""

    def __init__(self, problem: Problem, lumens: tuple[Lumen, ...]) -> None:
        self.problem, self.apart = problem, clashing(problem)
        self.bounds: list[tuple[float, float]] = []
        self.rows: list[tuple[Row, float]] = []  # each: sum of terms at most a number
        self.objective: dict[int, float] = {}
        self.on: dict[str, dict[str, int]] = {}
        self.step: dict[str, int] = {}
        self.first: dict[tuple[str, str], int] = {}
        self.timed = [one for one in problem.infusions if not one.continuous]
        self.possible = True
        for one in problem.infusions:
            self._place(one, lumens)
        if self.possible:
            self._part()
            for one in problem.infusions:
                if one.continuous and one.may_pause:
                    self._pauses(one)

    @property
    def heavy(self) -> float:
        """One interruption outweighs every minute that could be paused."""
        return self.problem.horizon_min * len(self.problem.infusions) + 1

    @property
    def far(self) -> float:
        """More than any two times lie apart, min."""
        return 2 * self.problem.horizon_min + 4 * self.problem.flush_min

    def solved(self, limit_s: float) -> tuple[int, int] | str | None:
        """Interruptions and minutes at their least."""
        cells = [(r, c, v) for r, (row, _) in enumerate(self.rows) for c, v in row.items()]
        at_most = np.array([most for _, most in self.rows])
        r, c, v = (np.array(part) for part in zip(*cells, strict=True))
        shape = (len(self.rows), len(self.bounds))
        cost = np.zeros(len(self.bounds))
        for column, weight in self.objective.items():
            cost[column] = weight
        low, high = (np.array(side) for side in zip(*self.bounds, strict=True))
        found = milp(
            cost,
            integrality=np.ones(len(self.bounds)),
            bounds=Bounds(low, high),
            constraints=LinearConstraint(csr_array((v, (r, c)), shape=shape), -np.inf, at_most),
            options={"time_limit": limit_s, "mip_rel_gap": 0},
        )
        if found.status == INFEASIBLE:
            return None
        if found.status != 0:
            return "not proven"
        interruptions, minutes = divmod(round(found.fun), self.heavy)
        return int(interruptions), int(minutes)

    def variable(self, low: float = 0, high: float = 1) -> int:
        self.bounds.append((low, high))
        return len(self.bounds) - 1

    def at_most(self, most: float, terms: Row) -> None:
        self.rows.append((terms, most))

    def _clash(self, one: Infusion, other: Infusion) -> bool:
        return frozenset((one.id, other.id)) in self.apart

    def _place(self, one: Infusion, lumens: tuple[Lumen, ...]) -> None:
        choice = {lumen.id: self.variable() for lumen in lumens if may_have(one, lumen)}
        self.on[one.id] = choice
        self.at_most(1, dict.fromkeys(choice.values(), 1.0))
        self.at_most(-1, dict.fromkeys(choice.values(), -1.0))
        every = range(1) if one.continuous else starts(self.problem, one)
        self.possible = self.possible and bool(choice) and bool(every)
        if self.possible and not one.continuous:
            size = self.problem.step_min
            self.step[one.id] = self.variable(every[0] // size, every[-1] // size)

    def _shared(self, one: Infusion, other: Infusion) -> list[tuple[int, int]]:
        mine, theirs = self.on[one.id], self.on[other.id]
        return [(here, theirs[lumen]) for lumen, here in mine.items() if lumen in theirs]

    def _part(self) -> None:
        for one, other in combinations(self.problem.infusions, 2):
            if not self._clash(one, other):
                continue
            goes_on = any(each.continuous and not each.may_pause for each in (one, other))
            if goes_on or (one.continuous and other.continuous):
                for here, there in self._shared(one, other):
                    self.at_most(1, {here: 1, there: 1})
            elif not one.continuous and not other.continuous:
                self._in_turn(one, other)

    def _in_turn(self, one: Infusion, other: Infusion) -> None:
        for here, there in self._shared(one, other):
            for early, late in ((one, other), (other, one)):
                terms = self._times(early, late, here=here, there=there)
                length = (early.duration_min or 0) + self.problem.flush_min
                order, sign = self._before(early.id, late.id)
                terms[order] = self.far * sign
                flipped = self.far if sign > 0 else 0
                self.at_most(2 * self.far + flipped - length, terms)

    def _times(self, early: Infusion, late: Infusion, *, here: int, there: int) -> Row:
        size = float(self.problem.step_min)
        terms: Row = defaultdict(float)
        terms[self.step[early.id]] += size
        terms[self.step[late.id]] -= size
        terms[here] += self.far
        terms[there] += self.far
        return terms

    def _before(self, one: str, other: str) -> tuple[int, int]:
        """The variable that says who starts first, and whether it is 1 (+) or 0 (-) for this."""
        names = list(self.step)
        if names.index(one) > names.index(other):
            column, sign = self._before(other, one)
            return column, -sign
        if (one, other) not in self.first:
            order = self.first[one, other] = self.variable()
            mine, theirs, far = self.step[one], self.step[other], float(self.far)
            self.at_most(far, {mine: 1, theirs: -1, order: far})
            self.at_most(-1, {theirs: 1, mine: -1, order: -far})
        return self.first[one, other], 1

    def _pauses(self, fluid: Infusion) -> None:
        stops = [one for one in self.timed if self._clash(fluid, one) and self._shared(fluid, one)]
        met = {one.id: self._met(fluid, one) for one in stops}
        more = {one.id: self.variable(0, self.problem.horizon_min) for one in stops}
        ways = {one.id: {self._begins(one, more[one.id]): -1.0, met[one.id]: 1.0} for one in stops}
        for early, late in permutations(stops, 2):
            sets_on = self._sets_on(early, late, more[late.id])
            self.at_most(0, {sets_on: 1, met[early.id]: -1})
            ways[late.id][sets_on] = -1
        for one in stops:
            self.at_most(0, ways[one.id])
            self.objective[more[one.id]] = 1
        if fluid.max_pause_min is not None and stops:
            self.at_most(fluid.max_pause_min, dict.fromkeys(more.values(), 1.0))

    def _met(self, fluid: Infusion, one: Infusion) -> int:
        """1 when both are on one lumen, and only then: none may be feigned to bridge a gap."""
        met, theirs = self.variable(), self.on[one.id]
        for lumen, here in self.on[fluid.id].items():
            if lumen in theirs:
                self.at_most(1, {here: 1, theirs[lumen]: 1, met: -1})
                self.at_most(1, {met: 1, here: 1, theirs[lumen]: -1})
            else:
                self.at_most(1, {met: 1, here: 1})
        return met

    def _begins(self, one: Infusion, more: int) -> int:
        """1 when a pause begins here: it then lasts its length with the flushes, cut at the ends.

        With flushes that may be cut this bound would be too high, so problems have none there.
        """
        begins = self.variable()
        self.objective[begins] = self.heavy
        length = (one.duration_min or 0) + 2 * self.problem.flush_min
        self.at_most(0, {begins: length, more: -1})
        return begins

    def _sets_on(self, early: Infusion, late: Infusion, more: int) -> int:
        sets_on, far = self.variable(), float(self.far)
        order, sign = self._before(early.id, late.id)
        self.at_most(0 if sign > 0 else 1, {sets_on: 1, order: -sign})
        size, flush = float(self.problem.step_min), self.problem.flush_min
        mine, theirs = self.step[early.id], self.step[late.id]
        lasts = (early.duration_min or 0) + 2 * flush
        self.at_most(lasts + far, {theirs: size, mine: -size, sets_on: far})
        past = (late.duration_min or 0) - (early.duration_min or 0)
        self.at_most(far - past, {theirs: size, mine: -size, sets_on: far, more: -1})
        return sets_on
