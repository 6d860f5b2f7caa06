"""Ways out of a clash in words, with the hour of the clock and where to go on.

Not every change that frees a lumen is one to ask for: what must run is neither stopped, put off nor
left out, blood is not called off, and no dose comes close to the one before it.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime
from itertools import groupby, pairwise
from typing import Final
from urllib.parse import urlencode

from app.cautions.phrases import opening
from app.cautions.shared.lines import is_blood
from app.lines.model import Infusion, Plan
from app.lines.ways import Way
from app.patient.order import CoInfusion, Order
from app.review.lines.bedside.decide import Decision
from app.review.lines.bedside.planned import BedsidePlan
from app.review.lines.bedside.problem import Bedside, Item
from app.review.lines.bedside.settings import DOSE_EARLY_MIN, DOSE_LATE_MIN
from app.review.lines.sentences import change_text
from app.web.lines.words import at, long, still_words
from app.web.pairs.asked import address

REVIEWED: Final = "The review of this order with it finds nothing loud that is new."
DECIDE: Final = "prescriber and pharmacist decide"
# Further out of its window than this a dose is another order (common practice, no source).
MOVED_MOST_MIN: Final = 120
BLOOD_MOVED_MOST_MIN: Final = 240


@dataclass(frozen=True, slots=True)
class WayView:
    """One way out. more: what else is known of it; link: where to go on, with its words."""

    change: str
    effect: str
    more: str = ""
    href: str = ""
    link: str = ""


def ways_of(made: BedsidePlan, patient_id: str, now: datetime) -> tuple[WayView, ...]:
    """Every way out, the cheapest first, and the pairs that a named person may settle."""
    if made.found.solution.barred is not None:
        return tuple(_of_a_bar(made))
    bedside = made.bedside
    ways = [way for way in made.found.ways if _may_be_asked(way, bedside)]
    left_out = tuple(_left_out([way for way in ways if way.kind == "leave out"], bedside))
    views = (_view(way, bedside, patient_id, now) for way in ways if way.kind != "leave out")
    settled = (_decision(one, bedside) for one in made.decisions)
    return (*views, *left_out, *settled)


def _of_a_bar(made: BedsidePlan) -> Iterator[WayView]:
    """Of two that must not both be given, the one that does not run yet is not begun."""
    bedside, pair = made.bedside, made.found.solution.barred or ()
    items = [bedside.item(name) for name in pair]
    runs = [item.name for item in items if item.runs]
    for item in items:
        if item.runs and len(runs) < len(items):
            continue
        other = next(one.name for one in items if one is not item)
        act = "Stop" if item.runs else "Do not give"
        change = f"{act} {item.name}, by whatever way: ask the prescriber at once what to give."
        yield WayView(change, f"{opening(other)} that was given bars it all the same.")


def _may_be_asked(way: Way, bedside: Bedside) -> bool:
    """Whether a change is one that anybody should be asked for."""
    if way.infusion_id is None:
        return True
    item = bedside.item(way.infusion_id)
    if way.kind == "pause":
        return not item.must_run
    if way.kind == "leave out":
        return not item.must_run and not _is_of_blood(item)
    if way.kind == "move":
        return _may_move(way, item, bedside)
    return way.kind != "replace" or isinstance(item.of, Order)


def _is_of_blood(item: Item) -> bool:
    return isinstance(item.of, CoInfusion) and is_blood(item.of)


def _may_move(way: Way, item: Item, bedside: Bedside) -> bool:
    """What runs now and must not stop is not put off; nor is a dose moved far, or to another."""
    if item.runs and (item.must_run or _is_urgent(item.of)):
        return False
    most = BLOOD_MOVED_MOST_MIN if _is_of_blood(item) else MOVED_MOST_MIN
    return abs(way.minutes) <= most and _keeps_its_distance(way, item, bedside)


def _is_urgent(infusion: object) -> bool:
    return isinstance(infusion, Order) and (
        infusion.is_bolus or infusion.purpose in ("resuscitation", "correction")
    )


def _keeps_its_distance(way: Way, item: Item, bedside: Bedside) -> bool:
    """Doses of one drug, and units of blood, stay in turn and as far apart as room allows."""
    doses = sorted(
        (one for one in bedside.items if one.source == item.source), key=lambda one: one.due_min
    )
    for one, other in pairwise(doses):
        due_apart = other.due_min - one.due_min - DOSE_EARLY_MIN - DOSE_LATE_MIN
        least = max(bedside.problem.by_id()[one.id].duration_min or 0, due_apart)
        if _starts(way.plan, other.id) - _starts(way.plan, one.id) < least:
            return False
    return True


def _left_out(ways: list[Way], bedside: Bedside) -> Iterator[WayView]:
    """What may be left out, those with one effect in one sentence."""
    named = [(_effect(way, bedside), bedside.item(way.infusion_id or "").name) for way in ways]
    for effect, group in groupby(named, key=lambda each: each[0]):
        names = [name for _, name in group]
        which = f"{', '.join(names[:-1])} or {names[-1]}" if len(names) > 1 else names[0]
        yield WayView(f"Leave out {which}, or give it another way: {DECIDE}.", effect)


def _view(way: Way, bedside: Bedside, patient_id: str, now: datetime) -> WayView:
    item = bedside.item(way.infusion_id) if way.infusion_id else None
    view = WayView(f"{change_text(bedside.problem, way)}.", _effect(way, bedside))
    if item is None:
        return view
    if way.kind == "move":
        return replace(view, change=_moved(way, item, bedside, now))
    if way.kind == "pause":
        change = f"Let {item.name} stand still for {long(way.minutes)}: ask the prescriber."
        return replace(view, change=change)
    if way.kind == "replace" and isinstance(item.of, Order):
        href = _review_address(way, item.of, patient_id)
        return replace(view, more=REVIEWED, href=href, link="Review that order")
    return view


def _effect(way: Way, bedside: Bedside) -> str:
    """What the plan is then like."""
    what = "The rest" if way.kind == "leave out" else "Everything"
    more = _with_new(way.cannulas) if way.kind != "cannula" else ""
    by = way.replacement
    still = still_words(bedside.told, way.plan, {by.infusion_id: by.name} if by else None)
    return f"{what} then runs{more}; {still}."


def _with_new(cannulas: int) -> str:
    if not cannulas:
        return ""
    return ", with 1 new cannula" if cannulas == 1 else f", with {cannulas} new cannulas"


def _moved(way: Way, item: Item, bedside: Bedside, now: datetime) -> str:
    hour = at(now, _starts(way.plan, item.id))
    if item.runs:
        return f"Hold {item.name} until {hour}: ask the prescriber."
    by, side = long(abs(way.minutes)), "before" if way.minutes < 0 else "past"
    edge = at(now, _edge(way, bedside.problem.by_id()[item.id]))
    which = "earliest" if way.minutes < 0 else "latest"
    return f"Give {item.name} at {hour}, {by} {side} its {which} start, {edge}: ask the prescriber."


def _edge(way: Way, infusion: Infusion) -> int:
    """The end of its room that a dose leaves: its earliest start, or its latest."""
    if way.minutes < 0:
        return infusion.earliest_start_min
    return (infusion.latest_end_min or 0) - (infusion.duration_min or 0)


def _starts(plan: Plan, item_id: str) -> int:
    return next(p.runs[0].start_min for p in plan.placements if p.infusion_id == item_id)


def _review_address(way: Way, order: Order, patient_id: str) -> str:
    """The order form with the other fluid in the order's place."""
    assert way.replacement is not None
    fields = {
        "patient": patient_id, "instead": order.id, "fluid": way.replacement.name,
        "volume": _figure(order.volume_ml), "rate": _figure(order.rate_ml_h),
        "purpose": order.purpose or "", "lumen": order.lumen or "",
    }  # fmt: skip
    return f"/orders/new?{urlencode({name: text for name, text in fields.items() if text})}"


def _figure(value: float | None) -> str:
    return "" if value is None else f"{value:g}"


def _decision(one: Decision, bedside: Bedside) -> WayView:
    names = [next(i.name for i in bedside.items if i.source == source) for source in one.sources]
    more = _with_new(one.plan.extra_cannulas)
    effect = f"Everything then runs{more}; {still_words(bedside.told, one.plan)}."
    href = address(name.partition(", ")[0] for name in names)
    return WayView(
        f"{one.change}.", effect, f"{opening(one.why)}.", href, "What is known of the two"
    )
