"""What an ordered bag holds: per litre, in this bag, and each hour."""

from dataclasses import dataclass
from typing import Final

from app.catalogue.fluid import ML_PER_L
from app.chemistry.substances import IONS
from app.patient.order import Order
from app.web import show
from app.web.show import Aligned

# Labels give calcium to two decimals.
PLACES: Final = 2
MASSES: Final = ("glucose", "albumin", "starch", "gelatin", "mannitol")


@dataclass(frozen=True, slots=True)
class BagRow:
    """One thing in the bag."""

    name: str
    unit: str
    per_litre: Aligned
    in_bag: Aligned
    each_hour: Aligned


@dataclass(frozen=True, slots=True)
class BagView:
    """Rows for what is there; absent: the salts that are not, in words; why: why none are known."""

    rows: tuple[BagRow, ...]
    absent: str = ""
    why: str = ""


def bag_view(order: Order) -> BagView:
    """The order's mix as rows; chloride that the label does not give is said to be not known."""
    if order.mix is None:
        return BagView((), why=_why(order))
    rows, absent = [], []
    for ion in IONS:
        value = order.mix.ion_mmol_l(ion.key)
        if value is None or value > 0:
            rows.append(_row(order, ion.name, "mmol", value))
        elif ion.key in ("potassium", "calcium", "magnesium"):
            absent.append(ion.name)
    for key in MASSES:
        value = getattr(order.mix, f"{key}_g_l")
        if value:
            rows.append(_row(order, key, "g", value))
    return BagView(tuple(rows), absent=" or ".join(absent))


def _row(order: Order, name: str, unit: str, per_litre: float | None) -> BagRow:
    volume = order.volume_ml
    in_bag = None if per_litre is None or volume is None else per_litre * volume / ML_PER_L
    each_hour = None if per_litre is None else order.per_hour(per_litre)
    return BagRow(
        name=show.capital(name),
        unit=unit,
        per_litre=show.aligned(per_litre, PLACES),
        in_bag=show.aligned(in_bag, PLACES),
        each_hour=show.aligned(each_hour, PLACES),
    )


def _why(order: Order) -> str:
    if order.candidates:
        names = " or ".join(fluid.name for fluid in order.candidates)
        return f"“{order.written}” can be {names}."
    if order.fluid is None:
        return "No fluid of the catalogue was understood, so nothing is known of the bag."
    unread = next((a for a in order.additives if a.unread), None)
    if unread:
        return f"{show.capital(unread.substance)}: {unread.unread}."
    return "No volume is stated, so what is added cannot be spread over it."
