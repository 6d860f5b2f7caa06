"""What the rules say of a bag tried on a patient: a curve alone would sound like consent."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from app.cautions.assess import Ruleset
from app.chemistry.salts import salt_amounts
from app.patient.case import Case
from app.patient.order import AdditiveDose, Order
from app.web.comparison.cautions import WHAT_IF, FluidCautions, order_cautions
from app.web.prediction.asked import MINUTES_PER_HOUR, Asked, Bag

NONE_OF_THEM: Final = "none"


def bag_cautions(
    bag: Bag, asked: Asked, case: Case, ruleset: Ruleset, instead: Order | None = None
) -> FluidCautions | None:
    """Loud findings of one bag; None while its pace is wanting.

    instead: the order of the case it is tried in place of; None for none of them.
    """
    if asked.volume_ml is None or asked.minutes is None:
        return None
    others = tuple(one for one in case.orders if one is not instead)
    order = order_of(bag, asked.volume_ml, asked.minutes, case, instead)
    # The first order is the one that gives way.
    return order_cautions(replace(case, orders=(instead or order, *others)), order, ruleset)


def replaced_order(asked: Asked, orders: Sequence[Order]) -> Order | None:
    """The order that a bag is tried in place of: the one chosen, else the first of the same fluid,
    else the first; None where none was chosen on purpose, or there is none.
    """
    chosen = asked.typed.get("instead", "")
    if chosen == NONE_OF_THEM:
        return None
    fluids = {bag.fluid.id for bag in asked.bags[:1]}
    alike = (one for one in orders if one.fluid is not None and one.fluid.id in fluids)
    by_id = (one for one in orders if one.id == chosen)
    return next(by_id, None) or next(alike, None) or next(iter(orders), None)


def order_of(
    bag: Bag, volume_ml: float, minutes: float, case: Case, instead: Order | None
) -> Order:
    """The bag as an order from now, by the lumen and for the purpose of the one it replaces."""
    hours = minutes / MINUTES_PER_HOUR
    return Order(
        id=WHAT_IF,
        written=bag.called,
        fluid=bag.fluid,
        additives=_additives(bag),
        volume_ml=volume_ml,
        rate_ml_h=volume_ml / hours,
        duration_h=hours,
        starts_at=case.now,
        lumen=None if instead is None else instead.lumen,
        purpose=None if instead is None else instead.purpose,
        mix=bag.mix(volume_ml),
    )


def _additives(bag: Bag) -> tuple[AdditiveDose, ...]:
    if not bag.potassium_mmol:
        return ()
    salt = "potassium_chloride"
    written = f"{bag.potassium_mmol:g} mmol"
    return (AdditiveDose(salt, salt_amounts(salt, bag.potassium_mmol), written),)
