"""Ways out where the lumens given do not suffice: one change at a time, each solved again.

Only what one cannula fewer does not carry is changed: whatever saves one must free one of these.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final, Literal, TypeVar

from app.lines.meeting import window
from app.lines.model import (
    MOST_NEW,
    Infusion,
    KeepApart,
    Plan,
    Problem,
    Solution,
    new_lumens,
)
from app.lines.model import Kind as InfusionKind
from app.lines.solve import Carrying, NotProven, solve

T = TypeVar("T")
Kind = Literal["move", "replace", "cannula", "pause", "central line", "leave out"]
# What a change costs the patient and the ward, in points: common practice, no source.
PRICES: Final[dict[Kind, float]] = {
    "move": 10, "replace": 20, "cannula": 40, "pause": 60, "central line": 90, "leave out": 100,
}  # fmt: skip
# A dose an hour off costs as much as a cannula, blood half an hour off: an order changed late
# treats late, and blood out of its fridge must begin within 30 min.
PRICE_OF_A_MINUTE_MOVED: Final[dict[InfusionKind, float]] = {
    "continuous": 0, "intermittent": 0.5, "blood": 1,
}  # fmt: skip
# Never offered a pause: seconds count.
NEVER_PAUSED: Final = "vasoactive"
# In a clash of more than these one change hardly ever helps: only cannulas are told of.
CHANGED: Final = 8
# Questions to the solver, times the square of the infusions each is about, as it takes to put one;
# its own count of work for all that ask whether everything fits, and for each plan.
QUESTIONS: Final = 60_000
LIMIT: Final = 0.25
LIMIT_OF_A_PLAN: Final = 0.05


@dataclass(frozen=True, slots=True)
class Replacement:
    """Something else to give instead of an infusion, and what that must not meet.

    keep_apart: every pair of the new one, under the id of the one replaced. beside_exclusive: the
    exclusive ones that it may run beside.
    """

    infusion_id: str
    name: str
    keep_apart: tuple[KeepApart, ...] = ()
    beside_exclusive: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Way:
    """One change, with the best plan once it is made.

    minutes: how far a dose moves, earlier below nought; or how long what now pauses stands still.
    cannulas: new ones that the plan needs all the same. central_lumens: of new central access.
    price: see PRICES.
    """

    kind: Kind
    plan: Plan
    price: float
    infusion_id: str | None = None
    minutes: int = 0
    cannulas: int = 0
    replacement: Replacement | None = None
    central_lumens: int = 0


def ways_out(
    problem: Problem, solution: Solution, replacements: Iterable[Replacement] = ()
) -> tuple[Way, ...]:
    """Every single change after which fewer cannulas suffice, cheapest first.

    solution: with its clash. Nothing where the lumens given suffice. A pair barred for the patient
    is freed by no lumen: only by leaving one out or by giving something else.
    """
    if solution.feasible:
        return ()
    plan = solution.plan
    changes = _Changes(problem, MOST_NEW + 1 if plan is None else plan.extra_cannulas)
    freed = solution.beyond if 0 < len(solution.beyond) <= CHANGED else solution.clash
    members = [one for one in problem.infusions if one.id in freed]
    barred, found = solution.barred is not None, list[Way]()
    if len(members) <= CHANGED:
        found += changes.of_infusions(members, tuple(replacements), barred=barred)
    if not barred:
        found += changes.of_lumens(members, plan)
    return tuple(sorted(found, key=lambda way: (way.price, *_burden(way.plan))))


def _burden(plan: Plan) -> tuple[int, int]:
    return plan.interruptions, plan.minutes_paused


class _Changes:
    """Changes of one problem. needed: the new cannulas that it takes as it stands."""

    def __init__(self, problem: Problem, needed: int) -> None:
        self.problem, self.needed = problem, needed
        self.questions_left = QUESTIONS // max(1, len(problem.infusions)) ** 2
        self.work_left = LIMIT

    def of_infusions(
        self, members: Sequence[Infusion], replacements: Sequence[Replacement], *, barred: bool
    ) -> Iterator[Way]:
        """What can be done about each infusion of the clash."""
        for one in members:
            ways = [self._left_out(one)]
            if not barred:
                ways.append(self._paused(one) if one.continuous else self._moved(one))
            ways += [self._replaced(by) for by in replacements if by.infusion_id == one.id]
            yield from (way for way in ways if way is not None)

    def of_lumens(self, members: Sequence[Infusion], plan: Plan | None) -> Iterator[Way]:
        """More cannulas, as the plan has them; or central access where something must have it."""
        if plan is not None:
            number = plan.extra_cannulas
            yield Way("cannula", plan, number * PRICES["cannula"], cannulas=number)
        elif any(one.needs_central for one in members):
            yield from self._central_lumens()

    def _central_lumens(self) -> Iterator[Way]:
        """Central access with as few lumens as help."""
        for number in range(1, MOST_NEW + 1):
            lumens = (*self.problem.lumens, *new_lumens(self.problem, number, "central"))
            way = self._solved("central line", replace(self.problem, lumens=lumens), None)
            if way is not None:
                yield replace(way, central_lumens=number)
                return

    def _solved(self, kind: Kind, changed: Problem, infusion_id: str | None) -> Way | None:
        """A change with its best plan; None unless that needs fewer cannulas."""
        if not self._fits(changed):
            return None
        self.questions_left -= 1
        plan = solve(changed, limit=LIMIT_OF_A_PLAN).plan if self.questions_left >= 0 else None
        if plan is None or plan.extra_cannulas >= self.needed:
            return None
        price = PRICES[kind] + plan.extra_cannulas * PRICES["cannula"]
        return Way(kind, plan, price, infusion_id, cannulas=plan.extra_cannulas)

    def _fits(self, changed: Problem) -> bool:
        """True when fewer cannulas are known to carry everything."""
        everything = frozenset(changed.by_id())
        return (
            self._asked(changed, lambda those: those.with_all(everything, everything)) is not None
        )

    def _asked(self, changed: Problem, question: Callable[[Carrying], T | None]) -> T | None:
        """An answer of the lumens given with one new cannula fewer; None where it is not known."""
        self.questions_left -= 1
        if self.questions_left < 0 or self.work_left <= 0:
            return None
        lumens = (*changed.lumens, *new_lumens(changed, self.needed - 1))
        those = Carrying(replace(changed, lumens=lumens), limit=self.work_left)
        try:
            return question(those)
        except NotProven:
            return None
        finally:
            self.work_left = those.left

    def _with(self, changed: Infusion) -> Problem:
        others = (changed if one.id == changed.id else one for one in self.problem.infusions)
        return replace(self.problem, infusions=tuple(others))

    def _left_out(self, infusion: Infusion) -> Way | None:
        """The rest without one; what carries another is not left out alone."""
        if any(one.beside == infusion.id for one in self.problem.infusions):
            return None
        rest = tuple(one for one in self.problem.infusions if one is not infusion)
        return self._solved("leave out", replace(self.problem, infusions=rest), infusion.id)

    def _paused(self, infusion: Infusion) -> Way | None:
        """Let what may not pause, or not for so long, stand still for as long as it takes."""
        free = infusion.may_pause and infusion.max_pause_min is None
        if free or infusion.role == NEVER_PAUSED:
            return None
        freed = replace(infusion, may_pause=True, max_pause_min=None)
        way = self._solved("pause", self._with(freed), infusion.id)
        if way is None:
            return None
        runs = next(one.runs for one in way.plan.placements if one.infusion_id == infusion.id)
        still_min = self.problem.horizon_min - sum(run.end_min - run.start_min for run in runs)
        return replace(way, minutes=still_min) if still_min else None

    def _replaced(self, by: Replacement) -> Way | None:
        """Something else instead, with its own pairs."""
        kept = (rule for rule in self.problem.keep_apart if by.infusion_id not in rule.pair)
        renamed = self._with(replace(self.problem.by_id()[by.infusion_id], name=by.name))
        sharing = (_beside(one, by) for one in renamed.infusions)
        pairs = (*kept, *by.keep_apart)
        changed = replace(renamed, infusions=tuple(sharing), keep_apart=pairs)
        way = self._solved("replace", changed, by.infusion_id)
        return None if way is None else replace(way, replacement=by)

    def _moved(self, dose: Infusion) -> Way | None:
        """The least move of one dose out of its window, either way, that saves a cannula."""
        first_min, latest = window(self.problem, dose)
        last_min = latest - (dose.duration_min or 0)
        anywhere = self._with(_widened(self.problem, dose, self.problem.horizon_min))
        least_min = self._asked(
            anywhere, lambda those: those.least_move(dose.id, first_min, last_min)
        )
        if not least_min:
            return None
        way = self._solved("move", self._with(_widened(self.problem, dose, least_min)), dose.id)
        if way is None:
            return None
        at = next(one.runs[0] for one in way.plan.placements if one.infusion_id == dose.id)
        minutes = _out_of_window_min(self.problem, dose, at.start_min)
        price = way.price + abs(minutes) * PRICE_OF_A_MINUTE_MOVED[dose.kind]
        return replace(way, minutes=minutes, price=price)


def _beside(one: Infusion, by: Replacement) -> Infusion:
    """An exclusive infusion, which may or may no longer run beside what is given instead."""
    shares = one.may_share_with_exclusive - {by.infusion_id}
    if one.id in by.beside_exclusive:
        shares |= {by.infusion_id}
    return replace(one, may_share_with_exclusive=shares)


def _out_of_window_min(problem: Problem, dose: Infusion, start_min: int) -> int:
    """How long after its window a dose ends, or, below nought, how long before it starts."""
    earliest, latest = window(problem, dose)
    late_min = start_min + (dose.duration_min or 0) - latest
    return start_min - earliest if start_min < earliest else max(0, late_min)


def _widened(problem: Problem, dose: Infusion, minutes: int) -> Infusion:
    earliest, latest = window(problem, dose)
    return replace(
        dose,
        earliest_start_min=max(0, earliest - minutes),
        latest_end_min=min(problem.horizon_min, latest + minutes),
    )
