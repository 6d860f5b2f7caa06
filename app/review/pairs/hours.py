"""When infusions run in the 24 hours ahead, and how long two of them are together. Pure."""

from collections.abc import Iterable, Sequence
from typing import Final

from app.catalogue.vehicles.vehicle import Vehicles
from app.cautions.shared.substances import Infusion, runs_on
from app.patient.case import Case
from app.patient.known import NotKnown
from app.patient.order import CoInfusion, Order
from app.review.ledger.giving import giving_of, runs_all_day
from app.review.running.infusions import dose_min
from app.review.running.orders import ends_min, starts_min
from app.review.running.part import MINUTES_PER_DAY, MINUTES_PER_HOUR, dose_times

# From and to, in minutes from now.
Span = tuple[float, float]
THROUGHOUT: Final[Span] = (0.0, MINUTES_PER_DAY)


def spans_of(infusion: Infusion, case: Case, vehicles: Vehicles) -> tuple[Span, ...]:
    """When it runs within 24 h. What has no written end is taken to run on; a dose of which
    nobody wrote how often comes once, and for as long as is usual.
    """
    if isinstance(infusion, Order):
        return _of_order(infusion, case)
    return _of_other(infusion, case, vehicles)


def _of_order(order: Order, case: Case) -> tuple[Span, ...]:
    if order.is_over:
        return ()
    starts = starts_min(order, case)
    if not order.rate_ml_h:
        return _clipped([(starts, MINUTES_PER_DAY)])
    ends, _ = ends_min(order, order.rate_ml_h, case, starts)
    return _clipped([(starts, ends)])


def _of_other(other: CoInfusion, case: Case, vehicles: Vehicles) -> tuple[Span, ...]:
    usual = vehicles.get(other.key)
    if runs_all_day(other, usual) or (other.duration_min is None and _runs(other)):
        return (THROUGHOUT,)
    doses = giving_of(other, usual, adult=_is_adult(case)).doses or 1.0
    minutes = dose_min(other, usual)
    return _clipped((at, at + minutes) for at in dose_times(doses, MINUTES_PER_DAY))


def _runs(other: CoInfusion) -> bool:
    return other.kind == "nutrition" or (other.kind == "drug" and runs_on(other))


def _is_adult(case: Case) -> bool:
    try:
        return case.patient.is_adult()
    except NotKnown:
        return False


def _clipped(spans: Iterable[Span]) -> tuple[Span, ...]:
    cut = ((max(a, 0.0), min(b, MINUTES_PER_DAY)) for a, b in spans)
    return tuple((a, b) for a, b in cut if a < b)


def hours_together(ones: Sequence[Span], others: Sequence[Span]) -> float:
    """How long two run at the same time, h."""
    minutes = sum(
        max(0.0, min(one[1], other[1]) - max(one[0], other[0])) for one in ones for other in others
    )
    return minutes / MINUTES_PER_HOUR
