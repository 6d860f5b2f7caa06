"""Bags that are given one after another: when each starts, and that each is given once."""

from dataclasses import replace
from datetime import datetime, timedelta
from typing import Final

from app.intake.orders.steps import THEN
from app.patient.order import Order

# A bag that starts this near to the end of another is the next one (common practice, no source).
NEXT_WITHIN: Final = timedelta(hours=1)


def in_turn(orders: tuple[Order, ...], now: datetime) -> tuple[Order, ...]:
    """The orders with those that follow each other started in turn, as their words or times say."""
    read = list(orders)
    for at, order in enumerate(orders):
        # A later step of one order has its start already.
        before = _before(read, at) if order.follows and THEN not in order.id else None
        starts_at = None if before is None else order.starts_at or _end(read[before], now)
        if before is not None and starts_at is not None:
            read[before] = _given_once(read[before], now)
            read[at] = replace(order, starts_at=starts_at, stated_duration=True)
    for first, second in _chained(read, now):
        read[first] = _given_once(read[first], now)
        if (read[second].starts_at or now) > now:
            read[second] = _given_once(read[second], now)
    return tuple(read)


def _given_once(order: Order, now: datetime) -> Order:
    """A bag that another follows is not renewed, and once empty gives nothing more."""
    end = _end(order, now)
    return replace(order, stated_duration=True, is_over=end is not None and end <= now)


def _before(orders: list[Order], at: int) -> int | None:
    """The order that this one follows: the bag before its own number, else the one above it."""
    number = orders[at].bag_number
    others = [i for i, order in enumerate(orders) if i != at and not order.is_bolus]
    if number > 1:
        numbered = [i for i in others if orders[i].bag_number == number - 1]
        if numbered:
            return numbered[0]
    above = [i for i in others if i < at]
    return above[-1] if above else None


def _end(order: Order, now: datetime) -> datetime | None:
    """When its one bag, or its written length, is over."""
    hours = order.duration_h
    if hours is None and order.volume_ml is not None and order.rate_ml_h:
        hours = order.volume_ml / order.rate_ml_h
    return None if hours is None else (order.starts_at or now) + timedelta(hours=hours)


def _chained(orders: list[Order], now: datetime) -> list[tuple[int, int]]:
    """Pairs by their times: one bag starts when another, by the same line, is empty."""
    places = range(len(orders))
    return [
        (first, second)
        for first in places
        for second in places
        if first != second and _follows_on(orders[first], orders[second], now)
    ]


def _follows_on(first: Order, second: Order, now: datetime) -> bool:
    end, starts = _end(first, now), second.starts_at
    if end is None or starts is None or first.lumen != second.lumen or first.starts_at == starts:
        return False
    whole_bags = first.volume_ml is not None and second.volume_ml is not None
    return whole_bags and abs(starts - end) <= NEXT_WITHIN
