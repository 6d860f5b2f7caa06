"""Everything that runs beside what is looked at, as loads over the hours ahead. Pure."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from app.catalogue.vehicles.vehicle import NO_VEHICLES, Vehicle, Vehicles
from app.cautions.phrases import opening
from app.patient.case import Case
from app.patient.known import NotKnown
from app.physiology.course.loads import Load
from app.review.ledger.drugs import Patient
from app.review.running.infusions import infusion_part
from app.review.running.orders import called, order_part
from app.review.running.part import MINUTES_PER_HOUR, Part, left_out

ON_THE_LIST: Final = "on the drug list, and nothing says how it is given"
LATER: Final = "is still to come"


@dataclass(frozen=True, slots=True)
class Running:
    """Loads from now. words: what is counted, a line each. not_counted: what is not, and why."""

    loads: tuple[Load, ...] = ()
    words: tuple[str, ...] = ()
    not_counted: tuple[str, ...] = ()


def running_loads(
    case: Case, *, leave_out: str | None, hours: float, vehicles: Vehicles = NO_VEHICLES
) -> Running:
    """What the patient's orders and drugs give in the next hours, but for one order.

    leave_out: the id of the order that is looked at by itself, with the drugs in its bag; None for
    none. Orders that are held give nothing; bags that end are counted to their end. vehicles: what
    drugs usually come in, without which only written carriers are counted.
    """
    parts = tuple(_parts(case, leave_out, hours * MINUTES_PER_HOUR, vehicles))
    return Running(
        loads=tuple(load for part in parts for load in part.loads),
        words=tuple(part.words for part in parts if part.words),
        not_counted=tuple(line for part in parts for line in part.not_counted),
    )


def _parts(
    case: Case, leave_out: str | None, ahead_min: float, vehicles: Vehicles
) -> Iterator[Part]:
    for order in case.orders:
        if order.id != leave_out:
            yield order_part(order, case, ahead_min)
    patient = Patient(_is_adult(case), case.patient.weight_kg)
    for other in case.co_infusions:
        yield infusion_part(other, vehicles, patient, ahead_min)
    yield from _not_running(case, leave_out)
    for vehicle in vehicles:
        if is_only_listed(vehicle, case):
            written = case.patient.medications.detail.get(vehicle.key, vehicle.key)
            yield left_out(opening(written), ON_THE_LIST)


def _not_running(case: Case, leave_out: str | None) -> Iterator[Part]:
    """Orders that are held, and what is still to come."""
    for order in case.not_given:
        if order.id != leave_out:
            yield left_out(called(order), f"“{order.not_given}”: it does not run")
    for other in case.set_aside:
        if other.stands == "later":
            yield left_out(opening(other.name), LATER)


def is_only_listed(vehicle: Vehicle, case: Case) -> bool:
    """A drug of the list that only goes into a vein, and of which nothing says how it runs."""
    if not vehicle.only_by_vein or vehicle.key not in case.patient.medications:
        return False
    return all(other.key != vehicle.key for other in (*case.co_infusions, *case.set_aside))


def _is_adult(case: Case) -> bool:
    """Usual volumes are an adult's; where nothing tells, none is taken."""
    try:
        return case.patient.is_adult()
    except NotKnown:
        return False
