"""The best plan, by a constraint solver: the only file that loads it.

Aims are sought one after the other, each held to while the next is sought. One thread, one seed
and a limit in the solver's own count of its work: the same problem has the same answer anywhere.
"""

from functools import cache
from typing import Any, Final, Literal

from app.lines.encoding import Encoded, Term
from app.lines.laid import laid_out
from app.lines.meeting import barred
from app.lines.model import MOST_NEW, Lumen, Plan, Problem, Solution, new_lumens
from app.lines.pausing import Pausing

# Counted by the solver itself, alike on every machine; half of one takes a second or two.
LIMIT: Final = 0.5
TIE_LIMIT: Final = 0.2
# So much is spent on each number of new cannulas, whatever the one before took.
LEAST: Final = 0.05
# So much at most goes into one question of many.
EACH: Final = 0.05
SEED: Final = 1
State = Literal["best", "found", "none", "not known"]


class NotProven(Exception):
    """The limit was reached before an answer was proven."""


@cache
def _library() -> Any:  # noqa: ANN401 - an untyped module
    """The solver's module, loaded on first use: that takes a quarter of a second."""
    from ortools.sat.python import cp_model

    return cp_model


def solve(problem: Problem, *, limit: float = LIMIT) -> Solution:
    """The best plan: fewest new cannulas, then interruptions, then minutes paused.

    Among equals what runs now stays, doses of one order keep one lumen, and then the first lumens
    and earliest starts in the order given. limit: the most work; past it the best plan found,
    not proven.
    """
    pair = barred(problem)
    if pair is not None:
        return Solution(None, feasible=False, proven_optimal=True, barred=pair.pair)
    left, proven = limit, True
    for extra in range(MOST_NEW + 1):
        lumens = (*problem.lumens, *new_lumens(problem, extra))
        search = _Search(problem, lumens, max(left, LEAST))
        state, plan = search.best_plan()
        proven, left = proven and state in ("best", "none"), left - search.spent
        if plan is not None:
            return Solution(plan, feasible=not extra, proven_optimal=proven)
    return Solution(None, feasible=False, proven_optimal=proven)


class Carrying:
    """What the lumens given carry together, asked again and again within one limit."""

    def __init__(self, problem: Problem, *, limit: float = LIMIT) -> None:
        self.search, self.left = _Search(problem, problem.lumens, limit, optional=True), limit

    def with_all(self, needed: frozenset[str], among: frozenset[str]) -> frozenset[str] | None:
        """As many infusions of some as were found to run together with all that are needed.

        None when those needed cannot. Raises NotProven when neither is known within the limit.
        """
        self.search.limit, self.search.spent = min(self.left, EACH), 0.0
        try:
            return self.search.most_kept(needed, among)
        finally:
            self.left -= self.search.spent

    def least_move(self, dose: str, first_min: int, last_min: int) -> int | None:
        """By how many minutes one dose must start before the first or after the last, so that all
        run together; None when they never do. Raises NotProven past the limit.
        """
        self.search.limit, self.search.spent = min(self.left, EACH), 0.0
        try:
            return self.search.least_move(dose, first_min, last_min)
        finally:
            self.left -= self.search.spent


class _Search:
    """Searches of one problem on a set of lumens, one after the other, and the last answer."""

    def __init__(
        self, problem: Problem, lumens: tuple[Lumen, ...], limit: float, *, optional: bool = False
    ) -> None:
        self.problem, self.limit, self.spent = problem, limit, 0.0
        self.built = _library().CpModel()
        self.encoded = Encoded(self.built, problem, lumens, optional=optional)
        self.pausing = Pausing(self.encoded, counted=not optional)
        self.answer: Term = None

    def best_plan(self) -> tuple[State, Plan | None]:
        """The best plan on these lumens."""
        state = self._lower(self.pausing.interruptions)
        if state == "best" and self.answer.value(self.pausing.interruptions):
            state = self._lower(self.pausing.minutes)
        if state == "best":
            self._lower(self.encoded.moves())
            self._lower(self.encoded.spread())
            self._settle()
        return state, None if self.answer is None else self._plan()

    def most_kept(self, needed: frozenset[str], among: frozenset[str]) -> frozenset[str] | None:
        """As many as can be of some, with all that are needed; None when there is no way."""
        kept = self.encoded.kept
        self.built.clear_assumptions()
        for name, given in kept.items():
            if name in needed:
                self.built.add_assumption(given)
            elif name not in among:
                self.built.add_assumption(given.negated())
        self.built.minimize(-sum(kept.values()))
        state = self._run(_library().CpSolver(), self.limit)
        if state == "not known":
            raise NotProven
        if state == "none":
            return None
        return frozenset(name for name, given in kept.items() if self.answer.boolean_value(given))

    def least_move(self, dose: str, first_min: int, last_min: int) -> int | None:
        """By how much one dose must leave its room so that everything is kept."""
        for given in self.encoded.kept.values():
            self.built.add(given == 1)
        outside, at = self.built.new_int_var(0, self.problem.horizon_min, ""), self.encoded.at[dose]
        self.built.add(outside >= first_min - at)
        self.built.add(outside >= at - last_min)
        state = self._lower(outside)
        if state in ("found", "not known"):
            raise NotProven
        return self.answer.value(outside) if state == "best" else None

    def _lower(self, aim: Term) -> State:
        """Find the least of an aim and hold to it; where none is found the last answer stays."""
        if isinstance(aim, int):
            if self.answer is not None:
                return "best"  # nothing to choose
            self.built.clear_objective()
        else:
            self.built.minimize(aim)
        state = self._run(_library().CpSolver(), self.limit - self.spent)
        if state == "best":
            self.built.add(aim <= self.answer.value(aim))
        return state

    def _settle(self) -> None:
        """Among equals: the first lumens, then the earliest starts, in the order given.

        Decided strictly in that order, so the first answer met is the first of all.
        """
        cp, solver = _library(), _library().CpSolver()
        self.built.clear_objective()
        self.built.clear_hints()
        places = [here for choice in self.encoded.on.values() for here in choice.values()]
        steps = list(self.encoded.steps.values())
        self.built.add_decision_strategy(places, cp.CHOOSE_FIRST, cp.SELECT_MAX_VALUE)
        self.built.add_decision_strategy(steps, cp.CHOOSE_FIRST, cp.SELECT_MIN_VALUE)
        solver.parameters.search_branching = cp.FIXED_SEARCH
        self._run(solver, TIE_LIMIT)

    def _run(self, solver: Term, limit: float) -> State:
        solver.parameters.num_workers = 1
        solver.parameters.random_seed = SEED
        # Rewriting the model first costs more than it gains here, and hides the order of choices.
        solver.parameters.cp_model_presolve = False
        solver.parameters.max_deterministic_time = max(limit, 0.0)
        cp, status = _library(), solver.solve(self.built)
        self.spent += solver.deterministic_time
        if status == cp.INFEASIBLE:
            return "none"
        if status not in (cp.OPTIMAL, cp.FEASIBLE):
            return "not known"
        self.answer = solver
        self._hint()
        return "best" if status == cp.OPTIMAL else "found"

    def _hint(self) -> None:
        """Where the next search may begin."""
        self.built.clear_hints()
        for choice in (*self.encoded.on.values(), self.encoded.steps):
            for term in choice.values():
                self.built.add_hint(term, self.answer.value(term))

    def _plan(self) -> Plan:
        where = {
            name: next(lumen for lumen, here in choice.items() if self.answer.boolean_value(here))
            for name, choice in self.encoded.on.items()
        }
        when = {name: self.answer.value(at) for name, at in self.encoded.at.items()}
        return laid_out(self.problem, where, when)
