"""When bags run out within a plan: the next is to hang by then, or somebody is to be asked."""

from collections.abc import Iterator
from typing import Final

from app.cautions.day_loads import running_h
from app.cautions.phrases import opening
from app.cautions.shared.substances import holds, is_dose
from app.lines.model import Placement, Run
from app.patient.case import Case
from app.patient.order import Order
from app.review.lines.bedside.planned import BedsidePlan
from app.review.lines.bedside.problem import Item

MINUTES_PER_HOUR: Final = 60.0


def bag_ends_min(order: Order, case: Case, runs: tuple[Run, ...]) -> tuple[int, ...]:
    """Minutes from now at which the bag that hangs, and each after it, is empty.

    runs: when it runs. Nothing where the volume or how long it has run is not known.
    """
    ran_h, rate, volume = _ran_h(order, case), order.rate_ml_h, order.volume_ml
    if ran_h is None or not rate or not volume:
        return ()
    left_min = (volume - rate * ran_h % volume) / rate * MINUTES_PER_HOUR
    whole_min = volume / rate * MINUTES_PER_HOUR
    return tuple(_ends(runs, left_min, whole_min))


def _ran_h(order: Order, case: Case) -> float | None:
    """How long it has run, h; none at all for what is still to start."""
    if order.starts_at is not None and order.starts_at >= case.now:
        return 0.0
    return running_h(order, case)


def _ends(runs: tuple[Run, ...], left_min: float, whole_min: float) -> Iterator[int]:
    for run in runs:
        start = float(run.start_min)
        while start + left_min <= run.end_min:
            start += left_min
            yield int(start)
            left_min = whole_min
        left_min -= run.end_min - start


def next_bags(made: BedsidePlan, case: Case) -> Iterator[tuple[int, Placement, Item]]:
    """Every bag that runs out while its order runs on: when, where, and of what."""
    plan = made.found.solution.plan
    by_id = made.bedside.problem.by_id()
    for placed in () if plan is None else plan.placements:
        item = made.bedside.item(placed.infusion_id)
        if not by_id[item.id].continuous or not isinstance(item.of, Order):
            continue
        horizon = made.bedside.problem.horizon_min
        for at_min in bag_ends_min(item.of, case, placed.runs):
            if at_min < horizon:
                yield at_min, placed, item


def ends_unasked(made: BedsidePlan) -> Iterator[tuple[int, Item]]:
    """Fluids that end within the plan with nothing said of what follows, and when."""
    plan = made.found.solution.plan
    by_id = made.bedside.problem.by_id()
    for placed in () if plan is None else plan.placements:
        item = made.bedside.item(placed.infusion_id)
        if isinstance(item.of, Order) and not by_id[item.id].continuous and not is_dose(item.of):
            yield placed.runs[-1].end_min, item


def needs_glucose(made: BedsidePlan) -> bool:
    """True where insulin runs all the time."""
    by_id = made.bedside.problem.by_id()
    return any(holds(item.of, "insulin") and by_id[item.id].continuous
               for item in made.bedside.items)  # fmt: skip


def end_words(item: Item, *, insulin: bool, hour: str) -> str:
    """What to ask before a fluid ends."""
    if insulin and has_glucose(item):
        return f"Insulin must not run on when {item.name} ends at {hour}: ask for glucose before."
    if insulin:
        return f"Insulin runs on when {item.name} ends at {hour}: ask what follows before then."
    return f"{opening(item.name)} ends at {hour}: ask what follows before then."


def has_glucose(item: Item) -> bool:
    """True for a bag that holds glucose."""
    mix = item.of.mix if isinstance(item.of, Order) else None
    return mix is not None and mix.glucose_g_l > 0
