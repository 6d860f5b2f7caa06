"""A plan laid out in time from where each infusion runs and when the timed ones start."""

from collections.abc import Iterable, Mapping

from app.lines.meeting import Pair, clashing
from app.lines.model import Infusion, Placement, Plan, Problem, Run


def laid_out(problem: Problem, where: Mapping[str, str], when: Mapping[str, int]) -> Plan:
    """The plan with its costs.

    where: lumen ids by infusion; when: start minutes by timed infusion. A lumen that the problem
    does not give is a new cannula.
    """
    apart = clashing(problem)
    stops = {one.id: _stops(problem, one, where, when, apart) for one in problem.infusions}
    placements = tuple(
        Placement(one.id, where[one.id], _runs(problem, one, when, stops[one.id]))
        for one in problem.infusions
    )
    given = {lumen.id for lumen in problem.lumens}
    pauses = [pause for each in stops.values() for pause in each]
    return Plan(
        placements,
        extra_cannulas=len({placed.lumen_id for placed in placements} - given),
        interruptions=len(pauses),
        minutes_paused=sum(pause.end_min - pause.start_min for pause in pauses),
    )


def _stops(
    problem: Problem,
    infusion: Infusion,
    where: Mapping[str, str],
    when: Mapping[str, int],
    apart: frozenset[Pair],
) -> tuple[Run, ...]:
    """When a continuous infusion stands still: while what clashes runs there, and its flushes."""
    if not infusion.continuous:
        return ()
    return joined(
        taken(problem, other, when[other.id])
        for other in problem.infusions
        if not other.continuous
        and where[other.id] == where[infusion.id]
        and frozenset((infusion.id, other.id)) in apart
    )


def taken(problem: Problem, timed: Infusion, start_min: int) -> Run:
    """A timed infusion with the flush before and after it, within the plan."""
    end_min = start_min + (timed.duration_min or 0)
    return Run(
        max(0, start_min - problem.flush_min), min(problem.horizon_min, end_min + problem.flush_min)
    )


def joined(runs: Iterable[Run]) -> tuple[Run, ...]:
    """Runs in order, those that touch or overlap made one."""
    whole: list[Run] = []
    for run in sorted(runs, key=lambda run: (run.start_min, run.end_min)):
        if whole and run.start_min <= whole[-1].end_min:
            whole[-1] = Run(whole[-1].start_min, max(whole[-1].end_min, run.end_min))
        else:
            whole.append(run)
    return tuple(whole)


def _runs(
    problem: Problem, infusion: Infusion, when: Mapping[str, int], stops: tuple[Run, ...]
) -> tuple[Run, ...]:
    if not infusion.continuous:
        start_min = when[infusion.id]
        return (Run(start_min, start_min + (infusion.duration_min or 0)),)
    edges = [0, *(at for stop in stops for at in (stop.start_min, stop.end_min))]
    ends = [*edges[1:], problem.horizon_min]
    pairs = list(zip(edges, ends, strict=True))[::2]
    return tuple(Run(start, end) for start, end in pairs if start < end)
