"""A plan as lumens over time: for a wide screen and for a hand."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Final

from app.lines.model import Plan, Run
from app.patient.order import CoInfusion, Order
from app.review.lines.bedside.planned import BedsidePlan
from app.review.lines.bedside.problem import Bedside, Item
from app.web.lines.words import MINUTES_PER_HOUR, gaps_of, lumen_title
from app.web.pictures.lumens import WIDE, Drawing, Fill, Lane, Row, Span, draw

NARROW: Final = 380.0


@dataclass(frozen=True, slots=True)
class Pictures:
    """The same picture twice, and what it shows in a sentence."""

    wide: Drawing
    narrow: Drawing
    spoken: str


def pictures_of(made: BedsidePlan, now: datetime) -> Pictures | None:
    """The pictures of a plan; None where there is none."""
    plan, problem = made.found.solution.plan, made.bedside.problem
    if plan is None or not plan.placements:
        return None
    rows = tuple(_rows(made, plan))
    minute = now.hour * MINUTES_PER_HOUR + now.minute
    wide, narrow = (draw(rows, problem.horizon_min, minute, width) for width in (WIDE, NARROW))
    hours = problem.horizon_min // MINUTES_PER_HOUR
    spoken = f"{len(rows)} lumens over {hours} h; the table below says the same"
    return Pictures(wide, narrow, spoken)


def lumens_in(made: BedsidePlan, plan: Plan) -> tuple[str, ...]:
    """The lumens given in their order, then new ones."""
    given = tuple(lumen.id for lumen in made.bedside.problem.lumens)
    used = dict.fromkeys(placed.lumen_id for placed in plan.placements)
    return (*given, *sorted(set(used) - set(given)))


def _rows(made: BedsidePlan, plan: Plan) -> Iterator[Row]:
    for lumen_id in lumens_in(made, plan):
        flushes = (step.at_min for step in made.found.steps
                   if step.what == "flush" and step.lumen_id == lumen_id)  # fmt: skip
        lanes = tuple(_lanes(made.bedside, plan, lumen_id))
        yield Row(lumen_title(lumen_id), lanes, tuple(flushes))


def _lanes(bedside: Bedside, plan: Plan, lumen_id: str) -> Iterator[Lane]:
    """A lane for each infusion, all doses of one together."""
    runs: dict[str, list[Run]] = {}
    for placed in plan.placements:
        if placed.lumen_id == lumen_id:
            runs.setdefault(bedside.item(placed.infusion_id).source, []).extend(placed.runs)
    for source, every in runs.items():
        items = [item for item in bedside.items if item.source == source]
        name = items[0].name if len(items) == 1 else items[0].name.rpartition(", ")[0]
        gaps = _stands_still(bedside, items[0], every)
        yield Lane(name, fill_of(bedside, items[0]), _spans(every), _spans(gaps))


def _stands_still(bedside: Bedside, item: Item, runs: list[Run]) -> Iterator[Run]:
    """Pauses of what runs all the time, and the wait of a bag that is held."""
    if bedside.problem.by_id()[item.id].continuous:
        yield from gaps_of(runs, bedside.problem.horizon_min)
    elif item.runs and runs[0].start_min > 0:
        yield Run(0, runs[0].start_min)


def _spans(runs: Iterable[Run]) -> tuple[Span, ...]:
    return tuple((run.start_min, run.end_min) for run in runs)


def fill_of(bedside: Bedside, item: Item) -> Fill:
    """How it is drawn: what never stops, blood, doses, and fluids."""
    infusion = bedside.problem.by_id()[item.id]
    if infusion.kind == "blood":
        return "blood"
    if infusion.continuous and not infusion.may_pause:
        return "kept"
    is_dose = isinstance(item.of, CoInfusion) and not infusion.continuous
    return (
        "dose"
        if is_dose or infusion.order_id
        else "fluid"
        if isinstance(item.of, Order)
        else "kept"
    )
