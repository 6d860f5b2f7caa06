"""What to do at the lumens, minute by minute: start, pause, flush, resume, end."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Final, Literal, get_args

from app.lines.flush import SALINE, Flush, FlushFluid, flush_of
from app.lines.laid import taken
from app.lines.meeting import clashing
from app.lines.model import Infusion, Placement, Plan, Problem, Run

# In the order in which they are done at one minute.
What = Literal["place", "end", "pause", "flush", "go on", "move", "start", "resume"]
IN_ORDER: Final[tuple[What, ...]] = get_args(What)
NO_OTHER: Final[Mapping[str, FlushFluid]] = {}


@dataclass(frozen=True, slots=True)
class Step:
    """One thing to do. at_min: minutes from the plan's beginning. do: a sentence to read aloud."""

    at_min: int
    lumen_id: str
    what: What
    do: str
    infusion_id: str | None = None
    flush: Flush | None = None


def steps_of(
    problem: Problem, plan: Plan, *, flush_with: Mapping[str, FlushFluid] = NO_OTHER
) -> tuple[Step, ...]:
    """Everything to do, by the clock, then lumen by lumen.

    flush_with: for infusions that salt solution spoils, by id, what their lumen is flushed with.
    """
    return tuple(_Clock(problem, plan, flush_with).steps())


def flush_ml(steps: Iterable[Step]) -> float:
    """What all flushes bring, mL."""
    return sum(step.flush.volume_ml for step in steps if step.flush is not None)


class _Clock:
    """A plan on its way to steps."""

    def __init__(self, problem: Problem, plan: Plan, flush_with: Mapping[str, FlushFluid]) -> None:
        self.problem, self.plan, self.flush_with = problem, plan, flush_with
        self.infusions, self.apart = problem.by_id(), clashing(problem)
        self.sites = {lumen.id: lumen.site for lumen in problem.lumens}

    def steps(self) -> Iterator[Step]:
        """All of them in order, each once."""
        placed = dict.fromkeys(placement.lumen_id for placement in self.plan.placements)
        order = [*self.sites, *sorted(set(placed) - set(self.sites))]
        found = dict.fromkeys((*self._new_cannulas(), *self._all_runs(), *self._all_flushes()))
        yield from sorted(
            found,
            key=lambda s: (s.at_min, order.index(s.lumen_id), IN_ORDER.index(s.what)),
        )

    def _new_cannulas(self) -> Iterator[Step]:
        for placement in self.plan.placements:
            if placement.lumen_id not in self.sites:
                yield Step(0, placement.lumen_id, "place", "Place a new peripheral cannula")

    def _all_runs(self) -> Iterator[Step]:
        for placement in self.plan.placements:
            infusion = self.infusions[placement.infusion_id]
            runs = self._continuous if infusion.continuous else self._timed
            yield from runs(infusion, placement)

    def _timed(self, infusion: Infusion, placement: Placement) -> Iterator[Step]:
        run, where = placement.runs[0], placement.lumen_id
        begun = self._begun(infusion, where, run.start_min, first=True)
        yield replace(begun, do=f"{begun.do}: {run.end_min - run.start_min} min")
        yield Step(run.end_min, where, "end", f"End of {infusion.name}", infusion.id)
        yield from self._held(infusion, run)

    def _held(self, timed: Infusion, run: Run) -> Iterator[Step]:
        """What runs now and is not to run yet."""
        if run.start_min > 0 and timed.stays_on in self.sites:
            here = timed.stays_on or ""
            yield Step(0, here, "pause", f"Pause {timed.name}", timed.id)

    def _continuous(self, infusion: Infusion, placement: Placement) -> Iterator[Step]:
        where, horizon_min = placement.lumen_id, self.problem.horizon_min
        for number, run in enumerate(placement.runs):
            yield self._begun(infusion, where, run.start_min, first=not number)
            if run.end_min < horizon_min:
                yield Step(run.end_min, where, "pause", f"Pause {infusion.name}", infusion.id)
        stands_still = not placement.runs or placement.runs[0].start_min > 0
        if stands_still and infusion.stays_on in self.sites:
            here = infusion.stays_on or where
            yield Step(0, here, "pause", f"Pause {infusion.name}", infusion.id)

    def _begun(self, infusion: Infusion, where: str, at_min: int, *, first: bool) -> Step:
        name, here = infusion.name, infusion.stays_on
        if not first or (here == where and at_min > 0):
            return Step(at_min, where, "resume", f"Resume {name}", infusion.id)
        if here == where:
            return Step(at_min, where, "go on", f"Leave {name} running", infusion.id)
        if here is not None:
            return Step(at_min, where, "move", f"Move {name} here from {here}", infusion.id)
        return Step(at_min, where, "start", f"Start {name}", infusion.id)

    def _all_flushes(self) -> Iterator[Step]:
        for placement in self.plan.placements:
            infusion = self.infusions[placement.infusion_id]
            if infusion.continuous:
                continue
            run, where = placement.runs[0], placement.lumen_id
            at_min = taken(self.problem, infusion, run.start_min).start_min
            before = self._stopped_for(infusion, where, at_min)
            if before is not None:
                yield self._flush(at_min, where, (infusion.id, before))
            if self._is_flushed_after(infusion, where, run.end_min):
                yield self._flush(run.end_min, where, (infusion.id,))

    def _flush(self, at_min: int, where: str, meant_for: Iterable[str]) -> Step:
        fluid = next((self.flush_with[one] for one in meant_for if one in self.flush_with), SALINE)
        flush = flush_of(self.sites.get(where, "peripheral"), fluid)
        return Step(at_min, where, "flush", flush.words, flush=flush)

    def _others(self, infusion: Infusion, where: str) -> Iterator[tuple[Infusion, Placement, bool]]:
        """What else is on a lumen, where, and whether it clashes."""
        for placement in self.plan.placements:
            other = self.infusions[placement.infusion_id]
            if placement.lumen_id == where and other is not infusion:
                yield other, placement, frozenset((infusion.id, other.id)) in self.apart

    def _stopped_for(self, infusion: Infusion, where: str, at_min: int) -> str | None:
        """What stops at this minute so that a timed infusion may start."""
        for other, placement, clashes in self._others(infusion, where):
            ended = other.continuous and any(run.end_min == at_min for run in placement.runs)
            starts_now = any(run.start_min == 0 for run in placement.runs)
            ran_on = at_min == 0 and other.stays_on == where and not starts_now
            if clashes and (ended or ran_on):
                return other.id
        return None

    def _is_flushed_after(self, infusion: Infusion, where: str, end_min: int) -> bool:
        """Unless something that may share the lumen runs on through it."""
        others = list(self._others(infusion, where))
        carried_on = [
            other
            for other, placement, clashes in others
            if not clashes and any(_runs_past(run, end_min) for run in placement.runs)
        ]
        if any(not other.continuous for other in carried_on):
            return False
        return not carried_on or any(clashes for _, _, clashes in others)


def _runs_past(run: Run, at_min: int) -> bool:
    return run.start_min <= at_min < run.end_min
