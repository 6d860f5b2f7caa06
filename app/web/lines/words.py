"""Times and lumens of a plan as they are said at the bedside."""

from collections.abc import Iterable, Iterator, Mapping
from datetime import datetime, timedelta
from itertools import pairwise
from typing import Final

from app.cautions.phrases import hours_text, listed, opening
from app.lines.blood import START_WITHIN_MIN
from app.lines.model import Infusion, Placement, Plan, Problem, Run
from app.lines.steps import Step
from app.review.lines.bedside.planned import lumen_words

MINUTES_PER_HOUR: Final = 60
TIMES: Final = {1: "once", 2: "twice"}
# These say for how long, which the clock says better.
BEGINS: Final = ("start", "go on", "move", "resume")


def at(now: datetime, minutes: int) -> str:
    """The time of day, so many minutes from now: "10:35"."""
    return f"{now + timedelta(minutes=minutes):%H:%M}"


def long(minutes: int) -> str:
    """A length of time: "35 min", "2 h 5 min"."""
    hours, rest = divmod(minutes, MINUTES_PER_HOUR)
    if not hours or not rest:
        return hours_text(minutes / MINUTES_PER_HOUR) if minutes else "0 min"
    return f"{hours} h {rest} min"


def runs_words(runs: Iterable[Run], now: datetime, horizon_min: int) -> str:
    """When something runs: "07:05 to 09:31", "throughout"."""
    told = tuple(runs)
    if told == (Run(0, horizon_min),):
        return "throughout"
    spans = (f"{at(now, run.start_min)} to {at(now, run.end_min)}" for run in told)
    return listed(tuple(spans)) or "not at all"


def _fetched(step: Step, infusion: Infusion | None, now: datetime) -> str:
    """When blood may leave its store for the time planned."""
    if infusion is None or infusion.kind != "blood" or step.what != "start":
        return ""
    earliest = step.at_min - START_WITHIN_MIN
    if earliest <= 0 and lumen_words(step.lumen_id) != step.lumen_id:
        return f" Fetch it once {lumen_words(step.lumen_id)} is in."
    return f" Fetch it no earlier than {at(now, earliest)}." if earliest > 0 else " Fetch it now."


def gaps_of(runs: Iterable[Run], horizon_min: int) -> Iterator[Run]:
    """Where something that runs all the time stands still."""
    edges = (Run(0, 0), *runs, Run(horizon_min, horizon_min))
    for one, other in pairwise(edges):
        if other.start_min > one.end_min:
            yield Run(one.end_min, other.start_min)


def still_words(told: Problem, plan: Plan, names: Mapping[str, str] | None = None) -> str:
    """What stands still or is held, how often and how long, read from the plan itself.

    told: the problem in which only what is connected now stays somewhere. names: of infusions that
    something else is given for.
    """
    infusions = told.by_id()
    said = (
        _still(infusions[p.infusion_id], p, (names or {}).get(p.infusion_id), told.horizon_min)
        for p in plan.placements
    )
    return "; ".join(filter(None, said)) or "nothing is interrupted"


def _still(infusion: Infusion, placed: Placement, name: str | None, horizon_min: int) -> str:
    name = name or infusion.name
    if not infusion.continuous:
        held = placed.runs[0].start_min if infusion.stays_on else 0
        return f"{name} is held for {long(held)}" if held else ""
    gaps = tuple(gaps_of(placed.runs, horizon_min))
    if not gaps:
        return ""
    often = TIMES.get(len(gaps), f"{len(gaps)} times")
    length = long(sum(gap.end_min - gap.start_min for gap in gaps))
    return f"{name} stands still {often}, {length}{' in all' if len(gaps) > 1 else ''}"


def lumen_title(lumen_id: str) -> str:
    """A lumen as a heading."""
    return opening(lumen_words(lumen_id))


def step_words(step: Step, infusion: Infusion | None, now: datetime, pace: str = "") -> str:
    """One thing to do, with its pace ("at 80 mL/h") and the time at which a dose ends."""
    said = step.do
    minutes = None if infusion is None else infusion.duration_min
    if step.what in BEGINS and minutes is not None and said.endswith(f": {minutes} min"):
        said = f"{said.removesuffix(f': {minutes} min')}{_by_set(step, infusion)}"
        until = f"{_paced(said, pace)}, {long(minutes)}, until {at(now, step.at_min + minutes)}."
        return f"{until}{_fetched(step, infusion, now)}"
    return f"{_paced(said, pace)}."


def _paced(said: str, pace: str) -> str:
    return f"{said} {pace}" if pace else said


def _by_set(step: Step, infusion: Infusion | None) -> str:
    """Blood goes by a set of its own."""
    blood = infusion is not None and infusion.kind == "blood" and step.what == "start"
    return " by a blood giving set" if blood else ""
