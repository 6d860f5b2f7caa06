"""Addresses of the short prediction and of the whole one: the same words behind another path."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final
from urllib.parse import parse_qsl, urlencode

from app.catalogue.fluid import ML_PER_L
from app.patient.case import Case
from app.patient.order import Order
from app.patient.snapshot import Snapshot
from app.physiology.course.body import KIDNEYS
from app.review.running.orders import order_part
from app.web.prediction.asked import order_address
from app.web.prediction.fields import ACUTE, LEFT_OUT, RESULT, RESULT_NUMBERS

WHOLE: Final = "/predict"
SHORT: Final = "/predict/ahead"
MINUTES_PER_HOUR: Final = 60.0
# How far to look: the first that is twice as long as the bag runs, h; else a day.
LOOK_H: Final = (4, 8, 12, 24)
TWICE: Final = 2.0
LONGEST_H: Final = LOOK_H[-1]
# The form's most, mL: a day of a rate that nobody keeps up.
MOST_ML: Final = 10_000.0
# Ticks of the form, and the conditions on record that set them.
TICKED_BY: Final[Mapping[str, frozenset[str]]] = MappingProxyType(
    {
        "shock": frozenset({"shock", "septic_shock", "cardiogenic_shock"}),
        "liver": frozenset({"severe_liver_failure"}),
        "kidneys": KIDNEYS,
        "alcohol": frozenset({"alcohol_dependence"}),
        "malnutrition": frozenset({"malnutrition"}),
    }
)
MORE_IN_IT: Final = "Only potassium chloride in a bag of a known volume is counted so far."
SHORT_STANDING: Final = ("acute_hyponatraemia", "acute_hypernatraemia")


def look_h(hours: float) -> int:
    """How far to look ahead at a bag that runs so many hours."""
    return next((h for h in LOOK_H if TWICE * hours <= h), LONGEST_H)


def short_of(address: str, **more: str) -> str:
    """The short prediction of what an address of the whole one asks for; empty for none."""
    if not address:
        return ""
    return f"{SHORT}?{urlencode({**asked_in(_looking(address)), **_told(more)})}"


def whole_of(fields: Mapping[str, str]) -> str:
    """The whole prediction of the fields of a short one."""
    return f"{WHOLE}?{urlencode(_told(fields))}"


def asked_in(address: str) -> dict[str, str]:
    """The fields that an address gives."""
    return dict(parse_qsl(address.partition("?")[2]))


def _told(fields: Mapping[str, str]) -> dict[str, str]:
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
    left_ml = min(sum(load.volume_l for load in loads) * ML_PER_L, MOST_ML)
    share = left_ml / order.volume_ml
    fields["volume"] = f"{left_ml:.6g}"
    if "potassium" in fields:
        fields["potassium"] = f"{float(fields['potassium']) * share:.4g}"
    return whole_of(fields)


def alone_address(patient_id: str, order: Order, case: Case) -> str:
    """As left_address, with nothing counted of what else runs."""
    address = left_address(patient_id, order, case)
    by_itself = f"&{urlencode({'others': LEFT_OUT})}" if _several(case) else ""
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
    return next((address for address in tried if address), "") if _several(case) else ""


def _several(case: Case) -> bool:
    return len(case.orders) + len(case.co_infusions) > 1


def typed_as(patient: Snapshot) -> dict[str, str]:
    """What is known of a person who was typed, in the fields of a prediction.

    Results are in the project's units, the newest of each that can be used, however old.
    """
    numbers = {
        "weight": patient.weight_kg, "age": patient.age_years, "height": patient.height_cm,
        "urine": patient.urine_ml_h, **{RESULT + n: _newest(n, patient) for n in RESULT_NUMBERS},
    }  # fmt: skip
    ticks = {tick: "1" for tick, keys in TICKED_BY.items() if patient.conditions.any_of(*keys)}
    onset = ACUTE if patient.conditions.any_of(*SHORT_STANDING) else ""
    told = {name: f"{value:.6g}" for name, value in numbers.items() if value is not None}
    return _told({"sex": patient.sex or "", "onset": onset, **told, **ticks})


def _newest(name: str, patient: Snapshot) -> float | None:
    usable = (one.value for one in patient.results.get(name, ()))
    return next((value for value in usable if value is not None), None)
