"""Infusions, lumens and problems in a few words."""

from app.lines.model import Infusion, KeepApart, Lumen, Plan, Problem, Run

P1, P2 = Lumen("p1", "peripheral"), Lumen("p2", "peripheral")
C1, C2 = Lumen("c1", "central"), Lumen("c2", "central")
SHIFT_MIN = 720


def running(name: str, **more: object) -> Infusion:
    """What runs all the time; `pauses=True` or a number of minutes lets it pause."""
    pauses = more.pop("pauses", False)
    most = None if isinstance(pauses, bool) else pauses
    return Infusion(name, name, "continuous", may_pause=bool(pauses), max_pause_min=most, **more)


def dose(
    name: str, minutes: int, earliest: int = 0, latest: int | None = None, **more: object
) -> Infusion:
    """What runs once, unbroken, in a window."""
    kind = more.pop("kind", "intermittent")
    return Infusion(name, name, kind, minutes, earliest, latest, **more)


def problem(
    lumens: tuple[Lumen, ...], *infusions: Infusion, apart: str = "", **more: object
) -> Problem:
    """A shift at 5-minute steps; apart: "lr cef, lr blood"."""
    pairs = [tuple(pair.split()) for pair in apart.split(",") if pair.strip()]
    rules = tuple(KeepApart((one, other)) for one, other in pairs)
    told = {"horizon_min": SHIFT_MIN, "step_min": 5, "flush_min": 0, "keep_apart": rules}
    return Problem(lumens=lumens, infusions=infusions, **{**told, **more})


def where(plan: Plan | None) -> dict[str, str]:
    """The lumen of each infusion."""
    assert plan is not None
    return {placed.infusion_id: placed.lumen_id for placed in plan.placements}


def runs(plan: Plan | None, name: str) -> list[tuple[int, int]]:
    """When one infusion runs."""
    assert plan is not None
    placed = next(one for one in plan.placements if one.infusion_id == name)
    return [(run.start_min, run.end_min) for run in placed.runs]


def cost(plan: Plan | None) -> tuple[int, int, int]:
    """New cannulas, interruptions, minutes paused."""
    assert plan is not None
    return plan.extra_cannulas, plan.interruptions, plan.minutes_paused


def run(start: int, end: int) -> tuple[Run, ...]:
    """One run."""
    return (Run(start, end),)
