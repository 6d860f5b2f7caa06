"""Addresses of the short prediction and of the whole one: the same words behind another path."""

from collections.abc import Mapping
from typing import Final
from urllib.parse import parse_qsl, urlencode

from app.catalogue.fluid import ML_PER_L
from app.patient.case import Case
from app.patient.order import Order
from app.review.running.orders import order_part
from app.web.prediction.asked import look_h, order_address
from app.web.prediction.fields import BAG_NUMBERS, LEFT_OUT, USUAL_HORIZON

WHOLE: Final = "/predict"
SHORT: Final = "/predict/ahead"
MINUTES_PER_HOUR: Final = 60.0
LONGEST_H: Final = int(USUAL_HORIZON)
# The form's most: a day that brings more is looked at as far as that goes.
MOST_ML: Final = BAG_NUMBERS["volume"].high
MOST_MMOL: Final = BAG_NUMBERS["potassium"].high
MORE_IN_IT: Final = "Only potassium chloride in a bag of a known volume is counted so far."


def short_of(address: str, **more: str) -> str:
    """The short prediction of what an address of the whole one asks for; empty for none."""
    if not address:
        return ""
    return f"{SHORT}?{urlencode({**asked_in(_looking(address)), **told(more)})}"


def whole_of(fields: Mapping[str, str]) -> str:
    """The whole prediction of the fields of a short one."""
    return f"{WHOLE}?{urlencode(told(fields))}"


def asked_in(address: str) -> dict[str, str]:
    """The fields that an address gives."""
    return dict(parse_qsl(address.partition("?")[2]))


def told(fields: Mapping[str, str]) -> dict[str, str]:
    """The fields that something is written in."""
    return {name: text for name, text in fields.items() if text}


def _looking(address: str) -> str:
    """With how far to look, where that is not asked for."""
    fields = asked_in(address)
    volume, rate = fields.get("volume", ""), fields.get("rate", "")
    if "horizon" in fields or not volume or not rate:
        return address
    return f"{address}&{urlencode({'horizon': look_h(float(volume) / float(rate))})}"


def left_address(patient_id: str, order: Order, case: Case) -> str:
    """The whole prediction of what an order still gives, from now; empty for what it cannot try.

    A bag that is renewed is tried as a day of it; one that is due, as if it began now.
    """
    address = order_address(patient_id, order)
    loads = order_part(order, case, LONGEST_H * MINUTES_PER_HOUR).loads
    if not address or not loads or not order.volume_ml:
        return ""
    fields = asked_in(address)
    potassium_ml = float(fields.get("potassium", 0)) / order.volume_ml
    most_ml = min(MOST_ML, MOST_MMOL / potassium_ml) if potassium_ml else MOST_ML
    left_ml = min(sum(load.volume_l for load in loads) * ML_PER_L, most_ml)
    fields["volume"] = f"{left_ml:.6g}"
    if potassium_ml:
        fields["potassium"] = f"{potassium_ml * left_ml:.4g}"
    return whole_of(fields)


def alone_address(patient_id: str, order: Order, case: Case) -> str:
    """As left_address, with nothing counted of what else runs."""
    address = left_address(patient_id, order, case)
    by_itself = f"&{urlencode({'others': LEFT_OUT})}" if is_several(case) else ""
    return f"{address}{by_itself}" if address else ""


def why_not(order: Order, case: Case) -> str:
    """Why nothing can be told of an order; empty when it can."""
    part = order_part(order, case, LONGEST_H * MINUTES_PER_HOUR)
    if not part.loads:
        return f"{', '.join(part.not_counted)}."
    return "" if order_address("", order) else MORE_IN_IT


def together_address(patient_id: str, case: Case) -> str:
    """All that runs: the first order that can be tried, with all else counted; empty for none, and
    where only one thing runs.
    """
    tried = (left_address(patient_id, order, case) for order in case.orders)
    return next((address for address in tried if address), "") if is_several(case) else ""


def is_several(case: Case) -> bool:
    """Whether more than one thing runs."""
    return len(case.orders) + len(case.co_infusions) > 1
