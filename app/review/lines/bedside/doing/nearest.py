"""Doses as near to their times as a plan allows, at no cost: a plan counts cannulas and pauses, and
of those that are equal a nurse wants the one that keeps to the chart. Pure.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from app.lines.check import faults
from app.lines.laid import laid_out, taken
from app.lines.meeting import clashing
from app.lines.model import Infusion, Plan, Problem, Run


def nearest(problem: Problem, plan: Plan, due_min: Mapping[str, int]) -> Plan:
    """The plan with every dose in due_min moved towards its time wherever nothing else changes:
    neither a lumen nor a cannula, nor how often or how long anything stands still.
    """
    if faults(problem, plan):
        return plan
    hand = _Hand(problem)
    for infusion_id in sorted(due_min, key=lambda name: (due_min[name], name)):
        plan = hand.moved(plan, infusion_id, due_min[infusion_id])
    return plan


@dataclass(frozen=True, slots=True)
class _Hand:
    problem: Problem

    def moved(self, plan: Plan, infusion_id: str, due: int) -> Plan:
        """The plan with one dose as near to its time as it can be."""
        where = {placed.infusion_id: placed.lumen_id for placed in plan.placements}
        timed = {one.id for one in self.problem.infusions if not one.continuous}
        when = {p.infusion_id: p.runs[0].start_min for p in plan.placements
                if p.infusion_id in timed}  # fmt: skip
        if infusion_id not in when:
            return plan
        dose = self.problem.by_id()[infusion_id]
        for start in self._nearer(dose, when[infusion_id], due):
            if self._meets(dose, start, where, when):
                continue
            other = laid_out(self.problem, where, {**when, infusion_id: start})
            if _cost(other) == _cost(plan) and not faults(self.problem, other):
                return other
        return plan

    def _nearer(self, dose: Infusion, start: int, due: int) -> Iterator[int]:
        """Starts within its room that are nearer to its time than the one it has, nearest first."""
        step, length = self.problem.step_min, dose.duration_min or 0
        horizon = self.problem.horizon_min
        latest = min(horizon, dose.latest_end_min or horizon) - length
        room = range(-(-dose.earliest_start_min // step) * step, latest + 1, step)
        nearer = (at for at in room if abs(at - due) < abs(start - due))
        yield from sorted(nearer, key=lambda at: (abs(at - due), at))

    def _meets(
        self, dose: Infusion, start: int, where: Mapping[str, str], when: Mapping[str, int]
    ) -> bool:
        """True when it would meet another dose, or its flush, that it clashes with."""
        apart, held = clashing(self.problem), taken(self.problem, dose, start)
        by_id = self.problem.by_id()
        return any(
            where[name] == where[dose.id]
            and frozenset((name, dose.id)) in apart
            and _overlap(held, Run(at, at + (by_id[name].duration_min or 0)))
            for name, at in when.items()
            if name != dose.id
        )


def _overlap(one: Run, other: Run) -> bool:
    return one.start_min < other.end_min and other.start_min < one.end_min


def _cost(plan: Plan) -> tuple[int, int, int]:
    return plan.extra_cannulas, plan.interruptions, plan.minutes_paused
