"""When each infusion runs within the plan, with the room it has, or why that is not known. Pure."""

from collections.abc import Iterable
from dataclasses import dataclass
from math import ceil
from typing import Final

from app.catalogue.vehicles.vehicle import Vehicle, Vehicles
from app.cautions.day_loads import doses_a_day
from app.cautions.phrases import hours_text
from app.cautions.shared.lines import is_blood
from app.cautions.shared.substances import Infusion, runs_on
from app.lines.blood import DONE_WITHIN_MIN
from app.patient.case import Case
from app.patient.known import NotKnown
from app.patient.order import CoInfusion, Order
from app.review.ledger.giving import giving_of, runs_all_day
from app.review.lines.bedside.pausing import held_min
from app.review.lines.bedside.settings import (
    BLOOD_WITHIN_MIN,
    DOSE_EARLY_MIN,
    DOSE_LATE_MIN,
    FLUSH_MIN,
    HORIZON_MIN,
    STEP_MIN,
)
from app.review.running.infusions import dose_min
from app.review.running.orders import ends_min, starts_min
from app.review.running.part import dose_times

MINUTES_PER_HOUR: Final = 60
NO_RATE: Final = "no rate is written, so when it runs is not known"
NO_LENGTH: Final = "how long it takes is not written"
NOT_KNOWN: Final = "it runs after another, and when that ends is not known"
USUAL_LENGTH: Final = "how long it takes is not written: the usual {minutes} min is taken"
USUAL_TIMES: Final = "how often it is given is not written: the usual is taken"
TOO_LONG: Final = (
    "takes longer than the 4 h that blood may be out of its store: ask for a faster rate, or for "
    "the unit in parts"
)
ONCE: Final = "how often it is given is not written: one dose is planned"


@dataclass(frozen=True, slots=True)
class Piece:
    """One run with its room, min from now. duration_min None: all the time. due_min: its time."""

    duration_min: int | None = None
    earliest_min: int = 0
    latest_end_min: int | None = None
    due_min: int = 0


@dataclass(frozen=True, slots=True)
class When:
    """When something runs. why_not: why it cannot be planned; later: that it is not due in this
    plan; notes: what was taken; runs: it is connected now.
    """

    pieces: tuple[Piece, ...] = ()
    why_not: str = ""
    later: str = ""
    notes: tuple[str, ...] = ()
    runs: bool = False


def when_of(infusion: Infusion, case: Case, vehicles: Vehicles) -> When:
    """When one infusion of a case runs within the plan."""
    if isinstance(infusion, Order):
        return _of_order(infusion, case)
    return _of_beside(infusion, vehicles.get(infusion.key), adult=_is_adult(case))


def _of_order(order: Order, case: Case) -> When:
    if order.is_over:
        return When(why_not="its bag is empty by now")
    if not order.rate_ml_h:
        return When(why_not=NO_RATE)
    if order.follows and order.starts_at is None:
        return When(why_not=NOT_KNOWN)
    often = doses_a_day(order, case)
    if often and order.volume_ml is not None:
        minutes = ceil(order.volume_ml / order.rate_ml_h * MINUTES_PER_HOUR)
        return _doses(dose_times(often, HORIZON_MIN), minutes, ())
    starts = starts_min(order, case)
    if starts >= HORIZON_MIN:
        return When(later=f"due in {hours_text(starts / MINUTES_PER_HOUR)}")
    ends, how = ends_min(order, order.rate_ml_h, case, starts)
    if ends <= starts:
        return When(why_not=f"{how}: see whether it still runs")
    if starts == 0 and ends >= HORIZON_MIN:
        return When((Piece(),), runs=True)
    return _bag(order, case, starts, min(ends, HORIZON_MIN))


def _bag(order: Order, case: Case, starts: float, ends: float) -> When:
    """A bag that begins or ends within the plan: in one run, which may be held for some time."""
    earliest = ceil(starts / STEP_MIN) * STEP_MIN
    minutes = max(1, min(ceil(ends - starts), HORIZON_MIN - earliest))
    latest = min(HORIZON_MIN, earliest + minutes + held_min(order, case))
    return When((Piece(minutes, earliest, latest, earliest),), runs=starts == 0)


def _of_beside(other: CoInfusion, usual: Vehicle | None, *, adult: bool) -> When:
    if is_blood(other):
        return _blood(other, usual)
    all_the_time = runs_all_day(other, usual) or other.kind == "nutrition" or runs_on(other)
    if all_the_time and not (other.duration_min and other.schedule.doses_per_day):
        return When((Piece(),), runs=True)
    minutes, notes = _length(other, usual)
    if minutes is None:
        return When(why_not=NO_LENGTH)
    giving = giving_of(other, usual, adult=adult)
    if giving.more_may_come:
        notes = (*notes, ONCE)
    elif giving.usual_times:
        notes = (*notes, USUAL_TIMES)
    return _doses(dose_times(giving.doses or 1.0, HORIZON_MIN), minutes, notes)


def _length(other: CoInfusion, usual: Vehicle | None) -> tuple[int | None, tuple[str, ...]]:
    """How long one dose takes, min, and what was taken for it; None where nothing tells."""
    written = other.duration_min or (other.volume_ml and other.rate_ml_h)
    if not written and (usual is None or usual.minutes is None):
        return None, ()
    minutes = max(1, ceil(dose_min(other, usual)))
    return minutes, () if written else (USUAL_LENGTH.format(minutes=minutes),)


def _doses(times: Iterable[float], minutes: int, notes: tuple[str, ...]) -> When:
    """A dose at each time, with its room, as far as it fits into the plan."""
    pieces = tuple(
        Piece(
            minutes,
            max(0, round(at) - DOSE_EARLY_MIN),
            min(HORIZON_MIN, round(at) + minutes + DOSE_LATE_MIN),
            round(at),
        )
        for at in times
        if at + minutes <= HORIZON_MIN
    )
    return When(pieces, notes=notes) if pieces else When(later="does not fit into this plan")


def _blood(other: CoInfusion, usual: Vehicle | None) -> When:
    """Each unit by itself, one after the other."""
    minutes, notes = _length(other, usual)
    if minutes is None:
        return When(why_not=NO_LENGTH)
    units = max(1, round(other.units or 1))
    each = minutes if units == 1 or "each" in other.name.lower() else ceil(minutes / units)
    if each > DONE_WITHIN_MIN:
        return When(why_not=TOO_LONG)
    pieces = (_unit(each, number) for number in range(units))
    fitting = tuple(one for one in pieces if one.earliest_min + each <= HORIZON_MIN)
    return When(fitting, notes=notes) if fitting else When(later="does not fit into this plan")


def _unit(minutes: int, number: int) -> Piece:
    before = number * (minutes + FLUSH_MIN)
    latest = min(HORIZON_MIN, before + BLOOD_WITHIN_MIN + minutes)
    earliest = ceil(number * minutes / STEP_MIN) * STEP_MIN
    return Piece(minutes, earliest, latest, before)


def _is_adult(case: Case) -> bool:
    try:
        return case.patient.is_adult()
    except NotKnown:
        return False
