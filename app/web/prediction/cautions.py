"""What the rules say of a bag tried on a patient: a curve alone would sound like consent."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from app.cautions.assess import Ruleset
from app.cautions.phrases import lowered
from app.chemistry.salts import salt_amounts
from app.patient.case import Case
from app.patient.order import AdditiveDose, Order
from app.web.comparison.cautions import WHAT_IF, CautionLine, FluidCautions, order_cautions
from app.web.prediction.asked import MINUTES_PER_HOUR, Asked, Bag
from app.web.show import amount

NONE_OF_THEM: Final = "none"
HOURS_PER_DAY: Final = 24.0


def bag_cautions(
    bag: Bag, asked: Asked, case: Case, ruleset: Ruleset, instead: Order | None = None
) -> FluidCautions | None:
    """Loud findings of one bag; None while its pace is wanting.

    instead: the order of the case it is tried in place of; None for none of them. A finding that
    only holds of a bag that is renewed says so: the curve beside it may be of one bag.
    """
    if asked.volume_ml is None or asked.minutes is None:
        return None
    others = tuple(one for one in case.orders if one is not instead)
    order = order_of(bag, asked.volume_ml, asked.minutes, case, instead)
    # The first order is the one that gives way.
    beside = replace(case, orders=(instead or order, *others))
    found = order_cautions(beside, order, ruleset)
    if order.is_given_once or asked.minutes >= MINUTES_PER_HOUR * HOURS_PER_DAY:
        return found
    of_one = order_cautions(beside, replace(order, stated_duration=True), ruleset)
    return replace(found, lines=_told_renewed(found.lines, of_one.lines, order))


def _told_renewed(
    lines: Sequence[CautionLine], of_one: Sequence[CautionLine], order: Order
) -> tuple[CautionLine, ...]:
    """The findings, those that one bag alone would not bring told as what they are."""
    said = {(line.rule_id, line.summary) for line in of_one}
    litres = order.litres_within(HOURS_PER_DAY)
    goes_on = f"If it goes on at this rate for 24 h ({amount(litres, 'L')}): "
    return tuple(
        line
        if (line.rule_id, line.summary) in said
        else replace(line, summary=f"{goes_on}{lowered(line.summary)}")
        for line in lines
    )


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
