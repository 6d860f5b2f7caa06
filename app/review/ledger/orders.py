"""What the orders bring: each fluid, and each thing put into its bag."""

from collections.abc import Iterator

from app.catalogue.fluid import ML_PER_L
from app.cautions.day_loads import litres_in_day
from app.chemistry.composition import Composition
from app.patient.case import Case
from app.patient.order import AdditiveDose, Order
from app.review.ledger.amounts import (
    ALL,
    NONE,
    Amounts,
    Row,
    amounts_of,
    dissolved,
    not_labelled,
    smallest,
)

NO_RATE = "neither rate nor volume is written, not counted"


def order_rows(order: Order, case: Case) -> Iterator[Row]:
    """The order's fluid at its pace for 24 h, or its whole volume if given once, and additives."""
    litres = litres_in_day(order, case)
    yield _fluid_row(order, litres)
    for dose in order.additives:
        if dose.unread or dose.added != Composition():
            yield _additive_row(order, dose, litres)


def bags_a_day(order: Order, case: Case) -> float | None:
    """How many times the order's volume is given in 24 h; None when it cannot be told."""
    litres = litres_in_day(order, case)
    if litres is None or not order.volume_ml:
        return None
    return litres * ML_PER_L / order.volume_ml


def _fluid_row(order: Order, litres: float | None) -> Row:
    fluids = (order.fluid,) if order.fluid else order.candidates
    words = order.fluid.name if order.fluid else order.written or "no fluid named"
    if litres is None:
        return Row(order.id, "fluid", words, NONE, "at least", ALL, NO_RATE)
    ml = litres * ML_PER_L
    if not fluids:
        note = "what it holds is not known, only its water is counted"
        return Row(
            order.id, "fluid", words, Amounts(ml), "at least", ALL - {"water_ml"}, note
        )  # fmt: skip
    amounts = smallest(amounts_of(f.composition, ml, f.energy_kcal_l) for f in fluids)
    unsaid = frozenset().union(*(not_labelled(fluid.composition) for fluid in fluids))
    if len(fluids) > 1:
        note = f"may be {' or '.join(f.name for f in fluids)}: the least of them is counted"
        return Row(
            order.id, "fluid", words, amounts, "at least", ALL - {"water_ml"}, note
        )  # fmt: skip
    note = "its label gives no chloride" if unsaid else ""
    return Row(order.id, "fluid", words, amounts, "written", unsaid, note)


def _additive_row(order: Order, dose: AdditiveDose, litres: float | None) -> Row:
    times = _times(order, dose, litres)
    if dose.unread or times is None:
        note = dose.unread or "in what volume is not written, not counted"
        return Row(
            order.id, "additive", dose.as_written, NONE, "at least", ALL - {"water_ml"}, note
        )  # fmt: skip
    return Row(order.id, "additive", dose.as_written, dissolved(dose.added, times))


def _times(order: Order, dose: AdditiveDose, litres: float | None) -> float | None:
    if litres is None:
        return None
    if dose.per_litre:
        return litres
    return None if not order.volume_ml else litres * ML_PER_L / order.volume_ml
