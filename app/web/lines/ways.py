"""Ways out of a clash in words, with the hour of the clock and where to go on."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Final
from urllib.parse import urlencode

from app.cautions.phrases import opening
from app.lines.model import Infusion, Plan
from app.lines.ways import Way
from app.patient.order import Order
from app.review.lines.bedside.decide import Decision
from app.review.lines.bedside.pausing import role_of
from app.review.lines.bedside.planned import BedsidePlan
from app.review.lines.bedside.problem import Bedside, Item
from app.review.lines.sentences import change_text
from app.web.lines.words import at, long, still_words
from app.web.pairs.asked import address

REVIEWED: Final = "The review of this order with it finds nothing loud that is new."


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
    bedside = made.bedside
    ways = tuple(_ways(made, patient_id, now))
    settled = tuple(_decision(one, bedside) for one in made.decisions)
    return (*ways, *settled)


def _ways(made: BedsidePlan, patient_id: str, now: datetime) -> Iterator[WayView]:
    bedside = made.bedside
    for way in made.found.ways:
        item = bedside.item(way.infusion_id) if way.infusion_id else None
        effect = _effect(way, bedside)
        if way.kind == "leave out" and item is not None and role_of(item.of) == "vasoactive":
            continue
        if way.kind == "move" and item is not None:
            if _may_move(item):
                yield WayView(_moved(way, item, bedside, now), effect)
        elif way.kind == "replace" and item is not None and isinstance(item.of, Order):
            href = _review_address(way, item.of, patient_id)
            change = f"{change_text(bedside.problem, way)}."
            yield WayView(change, effect, REVIEWED, href, "Review that order")
        else:
            yield WayView(f"{change_text(bedside.problem, way)}.", effect)


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


def _may_move(item: Item) -> bool:
    """What runs now and must not stop is not put off."""
    return not (item.runs and isinstance(item.of, Order) and _is_urgent(item.of))


def _is_urgent(order: Order) -> bool:
    return (
        order.is_bolus or order.purpose in ("resuscitation", "correction") or bool(role_of(order))
    )


def _moved(way: Way, item: Item, bedside: Bedside, now: datetime) -> str:
    start = _starts(way.plan, item.id)
    hour, by = at(now, start), long(abs(way.minutes))
    if item.runs:
        return f"Hold {item.name} until {hour}: ask the prescriber."
    side = "before" if way.minutes < 0 else "after"
    room = _room(bedside.problem.by_id()[item.id], now)
    return f"Give {item.name} at {hour}, {by} {side} its time ({room}): ask the prescriber."


def _room(infusion: Infusion, now: datetime) -> str:
    latest = (infusion.latest_end_min or 0) - (infusion.duration_min or 0)
    return f"start {at(now, infusion.earliest_start_min)} to {at(now, latest)}"


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
