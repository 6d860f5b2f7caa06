"""Magnesium that is given: by which order or drug, how much, and whether it runs on."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from app.cautions.phrases import bag_name, infusion_name
from app.cautions.shared.fluid_facts import HOURS_PER_DAY, litres_within
from app.cautions.shared.veins import hours_to_run
from app.patient.case import Case
from app.patient.order import CoInfusion, Order

# Above any balanced fluid: a magnesium salt was put in.
SALT_FROM_MMOL_L: Final = 3.0
# Half an hour to two hours is a dose; longer runs on (common practice, no source).
DOSE_WITHIN_H: Final = 2.0
MINUTES_PER_HOUR: Final = 60.0
RUNS: Final = re.compile(r"/\s*(?:h|hr|hour)\b|infus|\bthen\b|per hour|maintenance|running")
SALTS: Final = ("magnesium_sulfate", "magnesium_chloride")


@dataclass(frozen=True, slots=True)
class MagnesiumGiven:
    """One source of added magnesium: mmol in 24 h (None when not told), and whether it runs on."""

    name: str
    order_id: str
    mmol: float | None
    runs_on: bool


def magnesium_given(case: Case) -> tuple[MagnesiumGiven, ...]:
    """Every order and drug with a magnesium salt; a balanced fluid's own is not one."""
    orders = (_of_order(order) for order in case.orders if _holds_salt(order))
    return (*orders, *_of_drugs(case))


def _holds_salt(order: Order) -> bool:
    if order.mix is not None:
        return order.mix.magnesium_mmol_l > SALT_FROM_MMOL_L
    return any("magnesium" in additive.substance for additive in order.additives)


def _of_order(order: Order) -> MagnesiumGiven:
    litres = litres_within(order, HOURS_PER_DAY)
    in_words = sum(a.added.magnesium_mmol_l for a in order.additives if not a.per_litre) or None
    mmol = order.mix.magnesium_mmol_l * litres if order.mix and litres is not None else in_words
    hours = hours_to_run(order)
    return MagnesiumGiven(bag_name(order), order.id, mmol, hours is None or hours > DOSE_WITHIN_H)


def _of_drugs(case: Case) -> Iterator[MagnesiumGiven]:
    for other in case.co_infusions:
        if other.key in SALTS and not other.carried_by:
            mmol = other.brings.magnesium_mmol_l if other.brings else None
            yield MagnesiumGiven(infusion_name(other), "", mmol, _runs_on(other))


def _runs_on(other: CoInfusion) -> bool:
    if other.duration_min is not None and other.duration_min > DOSE_WITHIN_H * MINUTES_PER_HOUR:
        return True
    return bool(RUNS.search(other.name.lower())) or (
        other.rate_ml_h is not None and other.duration_min is None
    )
