"""An order of several steps: each an order of its own, started when the one before is done."""

from dataclasses import replace
from datetime import datetime, timedelta
from typing import Final

from app.chemistry.mixing import scaled
from app.intake.orders.settle import with_bags
from app.intake.rates import Flow
from app.patient.order import AdditiveDose, Order, Question

# Behind the id of the order that a later step belongs to.
THEN: Final = ", then"
FOR_HOW_LONG: Final = "For how long, before what is written next?"


def is_part_of(order_id: str, whole_id: str) -> bool:
    """True for the order itself and for each of its later steps."""
    return order_id == whole_id or order_id.startswith(whole_id + THEN)


def parted(order: Order, steps: tuple[Flow, ...], now: datetime) -> tuple[Order, ...]:
    """The order's steps in turn; the order itself where it has none.

    A step of unknown length is taken to go on, and what should follow is asked about.
    """
    if not steps:
        return (order,)
    parts: list[Order] = []
    starts_at = order.starts_at
    for number, step in enumerate(_whole(step, order.volume_ml) for step in steps):
        is_last = number == len(steps) - 1
        parts.append(_part(order, step, number, is_last=is_last, starts_at=starts_at))
        if step.is_bolus and step.duration_h is None:
            continue
        hours = step.duration_h or _bag_h(order, step)
        if is_last or hours is None:
            break
        starts_at = (starts_at or now) + timedelta(hours=hours)
    if len(parts) < len(steps):
        ask = Question("rate_text", order.text or order.written, FOR_HOW_LONG, minor=True)
        parts[0] = replace(parts[0], questions=(*parts[0].questions, ask))
    return tuple(parts)


def _whole(step: Flow, bag_ml: float | None) -> Flow:
    """A step with its rate; of the order's bag where it names no volume ("6-hourly x 2")."""
    if step.rate_ml_h is None and step.volume_ml is None:
        step = replace(step, volume_ml=bag_ml)
    return with_bags(step)


def _part(
    order: Order, step: Flow, number: int, *, is_last: bool, starts_at: datetime | None
) -> Order:
    hours = step.duration_h or (None if is_last else _bag_h(order, step))
    ml = step.volume_ml
    if ml is None and step.rate_ml_h is not None and hours is not None:
        ml = step.rate_ml_h * hours
    return replace(
        order,
        id=order.id + THEN * number,
        rate_ml_h=step.rate_ml_h,
        volume_ml=ml or order.volume_ml,
        duration_h=hours,
        additives=_shared(order, ml),
        is_bolus=step.is_bolus,
        bags=step.bags,
        starts_at=starts_at,
        follows=bool(number) or order.follows,
        running_h=None if number else order.running_h,
        stated_duration=step.stated_duration or not is_last,
        questions=() if number else order.questions,
    )


def _bag_h(order: Order, step: Flow) -> float | None:
    """How long the order's bag lasts at a step's rate."""
    if order.volume_ml is None or not step.rate_ml_h:
        return None
    return order.volume_ml / step.rate_ml_h


def _shared(order: Order, ml: float | None) -> tuple[AdditiveDose, ...]:
    """What of the bag's additives goes into a part of it; a part larger than it is a new bag."""
    if ml is None or order.volume_ml is None or ml >= order.volume_ml:
        return order.additives
    share = ml / order.volume_ml
    return tuple(
        dose if dose.per_litre else replace(dose, added=scaled(dose.added, share))
        for dose in order.additives
    )
