"""Whether a plan breaks anything it answers to, told minute by minute.

Shares no reckoning with what makes plans: it paints every minute and looks.
"""

from collections.abc import Iterator
from itertools import chain, combinations, groupby
from typing import Final

from app.lines.model import MOST_NEW, Infusion, Lumen, Placement, Plan, Problem

NEW: Final = "new"
Minutes = frozenset[int]


def faults(problem: Problem, plan: Plan) -> tuple[str, ...]:
    """Everything wrong with a plan, in sentences; empty when there is nothing."""
    missing = tuple(_not_placed(problem, plan))
    return missing or tuple(_Checked(problem, plan).faults())


def _not_placed(problem: Problem, plan: Plan) -> Iterator[str]:
    placed = [placement.infusion_id for placement in plan.placements]
    given = [infusion.id for infusion in problem.infusions]
    yield from (f"{name} is not in the plan" for name in given if name not in placed)
    yield from (f"{name} was not asked for" for name in placed if name not in given)
    yield from (f"{name} is planned twice" for name in set(placed) if placed.count(name) > 1)


class _Checked:
    """A plan in which every infusion is placed once, painted."""

    def __init__(self, problem: Problem, plan: Plan) -> None:
        self.problem, self.plan = problem, plan
        self.infusions = {infusion.id: infusion for infusion in problem.infusions}
        self.placed = {placement.infusion_id: placement for placement in plan.placements}
        self.lumens = {lumen.id: lumen for lumen in problem.lumens}
        self.running = {name: _minutes(placement) for name, placement in self.placed.items()}
        self.whole: Minutes = frozenset(range(problem.horizon_min))

    def faults(self) -> Iterator[str]:
        """All of them, place first, then time, then what meets, then what it costs."""
        for name, infusion in self.infusions.items():
            yield from self._place(infusion)
            yield from self._stop(infusion) if infusion.continuous else self._dose(infusion)
            yield from self._carrier(infusion)
            if any(run.start_min >= run.end_min for run in self.placed[name].runs):
                yield f"{infusion.name} has a run that ends before it begins"
        for one, other in combinations(self.infusions.values(), 2):
            yield from self._meeting(one, other)
        yield from self._crowding()
        yield from self._cost()

    def _place(self, infusion: Infusion) -> Iterator[str]:
        name = self.placed[infusion.id].lumen_id
        if name not in self.lumens and not name.startswith(NEW):
            yield f"{infusion.name} is on {name}, which there is not"
        lumen = self.lumens.get(name, Lumen(name, "peripheral"))
        if infusion.needs_central and lumen.site != "central":
            yield f"{infusion.name} needs a central lumen and is on {name}"
        if lumen.role and lumen.role != infusion.role:
            yield f"{infusion.name} is on {name}, which is kept for {lumen.role}"

    def _dose(self, infusion: Infusion) -> Iterator[str]:
        runs = self.placed[infusion.id].runs
        if len(runs) != 1 or runs[0].end_min - runs[0].start_min != infusion.duration_min:
            yield f"{infusion.name} does not run unbroken for {infusion.duration_min} min"
            return
        latest, horizon = infusion.latest_end_min, self.problem.horizon_min
        end = horizon if latest is None else min(latest, horizon)
        if runs[0].start_min < max(0, infusion.earliest_start_min) or runs[0].end_min > end:
            yield f"{infusion.name} runs outside its window"
        step, start = self.problem.step_min, runs[0].start_min
        first = max(0, infusion.earliest_start_min)
        every_start = range(first, end - (infusion.duration_min or 0) + 1)
        if start % step and (start > first or any(at % step == 0 for at in every_start)):
            yield f"{infusion.name} does not start on a step of {step} min"

    def _stop(self, infusion: Infusion) -> Iterator[str]:
        """A continuous infusion runs unless it must stand still, and stands still no more."""
        running, must_stop = self.running[infusion.id], self._must_stop(infusion)
        if running & must_stop:
            yield f"{infusion.name} runs while it must stand still"
        if self.whole - must_stop - running:
            yield f"{infusion.name} stands still without need"
        if running - self.whole:
            yield f"{infusion.name} runs outside the plan"
        paused = len(self.whole - running)
        if paused and not infusion.may_pause:
            yield f"{infusion.name} is interrupted and must not be"
        if infusion.max_pause_min is not None and paused > infusion.max_pause_min:
            yield f"{infusion.name} stands still for more than {infusion.max_pause_min} min"

    def _must_stop(self, infusion: Infusion) -> Minutes:
        """While a timed infusion that clashes is on its lumen, with the flushes; as its carrier."""
        stopped: set[int] = set()
        for timed in self.infusions.values():
            met = not timed.continuous and self._together(infusion, timed)
            if met and self._clash(infusion, timed):
                stopped |= self._with_flushes(timed)
        if infusion.beside in self.infusions:
            stopped |= self._must_stop(self.infusions[infusion.beside])
        return frozenset(stopped)

    def _with_flushes(self, one: Infusion) -> Minutes:
        flush, runs = self.problem.flush_min, self.placed[one.id].runs
        near = (range(run.start_min - flush, run.end_min + flush) for run in runs)
        return self.whole.intersection(chain.from_iterable(near))

    def _meeting(self, one: Infusion, other: Infusion) -> Iterator[str]:
        if self._told(one, other, "patient"):
            yield f"{one.name} and {other.name} must not both be given"
        if not (self._together(one, other) and self._clash(one, other)):
            return
        if one.continuous and other.continuous:
            yield f"{one.name} and {other.name} share a lumen for good"
        elif self._with_flushes(one) & self.running[other.id]:
            yield f"{one.name} and {other.name} meet on a lumen, or without a flush between"

    def _together(self, one: Infusion, other: Infusion) -> bool:
        return self.placed[one.id].lumen_id == self.placed[other.id].lumen_id

    def _clash(self, one: Infusion, other: Infusion) -> bool:
        alone = (a.exclusive and b.id not in a.may_share_with_exclusive
                 for a, b in ((one, other), (other, one)))  # fmt: skip
        return self._told(one, other, "lumen") or self._told(one, other, "patient") or any(alone)

    def _told(self, one: Infusion, other: Infusion, scope: str) -> bool:
        pair = {one.id, other.id}
        return any(set(rule.pair) == pair and rule.scope == scope
                   for rule in self.problem.keep_apart)  # fmt: skip

    def _carrier(self, infusion: Infusion) -> Iterator[str]:
        carrier = self.infusions.get(infusion.beside or "")
        if carrier is None:
            return
        if not self._together(infusion, carrier):
            yield f"{infusion.name} is not on the lumen of {carrier.name}, which carries it"
        elif self.running[infusion.id] - self.running[carrier.id]:
            yield f"{infusion.name} runs while {carrier.name}, which carries it, stands still"

    def _crowding(self) -> Iterator[str]:
        most = self.problem.most_at_once
        if most is None:
            return
        for lumen in dict.fromkeys(placement.lumen_id for placement in self.plan.placements):
            there = [one for one in self.infusions.values()
                     if self.placed[one.id].lumen_id == lumen]  # fmt: skip
            spans = [self.whole if one.continuous else self.running[one.id] for one in there]
            if any(sum(at in span for span in spans) > most for at in self.whole):
                yield f"more than {most} are connected to {lumen} at once"

    def _cost(self) -> Iterator[str]:
        new = {placed.lumen_id for placed in self.placed.values()} - set(self.lumens)
        gaps = [gap for one in self.infusions.values() if one.continuous
                for gap in _stretches(self.whole - self.running[one.id])]  # fmt: skip
        costs = {
            "new cannulas": (self.plan.extra_cannulas, len(new)),
            "interruptions": (self.plan.interruptions, len(gaps)),
            "minutes paused": (self.plan.minutes_paused, sum(gaps)),
        }
        if len(new) > MOST_NEW:
            yield f"more than {MOST_NEW} new cannulas"
        for what, (said, counted) in costs.items():
            if said != counted:
                yield f"{what}: the plan says {said} and has {counted}"


def _minutes(placement: Placement) -> Minutes:
    """Every minute at which it runs, each named by its beginning."""
    return frozenset(at for run in placement.runs for at in range(run.start_min, run.end_min))


def _stretches(minutes: Minutes) -> Iterator[int]:
    """The length of each unbroken stretch of minutes."""
    places = enumerate(sorted(minutes))
    for _, stretch in groupby(places, key=lambda place: place[1] - place[0]):
        yield len(list(stretch))
