"""An order in the words a nurse would read out."""

from datetime import datetime, timedelta

from app.patient.order import AdditiveDose, Order
from app.web import show


def order_words(order: Order, now: datetime) -> str:
    """Fluid, additives, volume, rate, end and lumen; what is not known is left to the findings."""
    parts = [f"{bag_words(order)}{_volume(order)}", _rate(order), _end(order, now), _lumen(order)]
    return ", ".join(part for part in parts if part)


def read_back(order: Order) -> str:
    """The order as it was understood, to be read back: bag, volume, rate and how long."""
    hours = order.duration_h if order.stated_duration or order.rate_ml_h is None else None
    over = "" if hours is None else f"over {_time(hours)}"
    parts = [f"{bag_words(order)}{_volume(order)}", _rate(order), over]
    return ", ".join(part for part in parts if part)


def bag_words(order: Order) -> str:
    """What is in the bag: "0.9% sodium chloride with potassium chloride 40 mmol"."""
    name = order.fluid.name if order.fluid else f"“{order.written}”"
    added = [_additive(additive) for additive in order.additives]
    return f"{name} with {' and '.join(added)}" if added else name


def ends_at(order: Order) -> datetime | None:
    """When the bag runs dry at this rate; None when start or duration is not known."""
    if order.starts_at is None or order.duration_h is None:
        return None
    return order.starts_at + timedelta(hours=order.duration_h)


def _time(hours: float) -> str:
    """To the minute: what is read back must not alter the order."""
    return show.duration(timedelta(minutes=round(hours * show.MINUTES_PER_HOUR)))


def _additive(additive: AdditiveDose) -> str:
    return additive.as_written or additive.substance


def _volume(order: Order) -> str:
    return "" if order.volume_ml is None else f", {show.amount(order.volume_ml, 'mL')}"


def _rate(order: Order) -> str:
    return "" if order.rate_ml_h is None else f"{show.amount(order.rate_ml_h, 'mL/h')}"


def _end(order: Order, now: datetime) -> str:
    end = ends_at(order)
    if end is None:
        return ""
    return f"{'ends' if end >= now else 'ended'} {show.clock(end, now)}"


def _lumen(order: Order) -> str:
    return f"by {order.lumen}" if order.lumen else ""
