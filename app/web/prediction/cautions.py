"""What the rules say of a bag tried on a patient: a curve alone would sound like consent."""

from app.cautions.assess import Ruleset
from app.chemistry.salts import salt_amounts
from app.patient.case import Case
from app.patient.order import AdditiveDose, Order
from app.web.comparison.cautions import WHAT_IF, FluidCautions, order_cautions
from app.web.prediction.asked import MINUTES_PER_HOUR, Asked, Bag


def bag_cautions(bag: Bag, asked: Asked, case: Case, ruleset: Ruleset) -> FluidCautions | None:
    """Loud findings of one bag in place of the first order; None while its pace is wanting."""
    if asked.volume_ml is None or asked.minutes is None:
        return None
    order = order_of(bag, asked.volume_ml, asked.minutes, case)
    return order_cautions(case, order, ruleset)


def order_of(bag: Bag, volume_ml: float, minutes: float, case: Case) -> Order:
    """The bag as an order from now, by the lumen and for the purpose of the patient's first."""
    first = case.orders[0] if case.orders else None
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
        lumen=None if first is None else first.lumen,
        purpose=None if first is None else first.purpose,
        mix=bag.mix(volume_ml),
    )


def _additives(bag: Bag) -> tuple[AdditiveDose, ...]:
    if not bag.potassium_mmol:
        return ()
    salt = "potassium_chloride"
    written = f"{bag.potassium_mmol:g} mmol"
    return (AdditiveDose(salt, salt_amounts(salt, bag.potassium_mmol), written),)
