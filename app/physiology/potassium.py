"""Potassium given: how strong the bag, how much each hour, how much in a day."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

from app.catalogue.fluid import ML_PER_L
from app.patient.case import Case
from app.patient.known import NotKnown
from app.patient.mixture import mixture
from app.patient.order import CoInfusion, Order

# The most that any balanced fluid of the catalogue holds is 5 mmol/L; more has been added.
BALANCED_AT_MOST_MMOL_L: Final = 5.5
# A small bag is a single dose, not a fluid that is hung again. Common practice, no source.
SINGLE_DOSE_TO_ML: Final = 250.0
HOURS_PER_DAY: Final = 24.0
MINUTES_PER_HOUR: Final = 60.0
SINGLE_DOSES: Final = ("correction", "resuscitation")


@dataclass(frozen=True, slots=True)
class PotassiumSource:
    """One infusion that brings potassium. per_hour and per_day are None when not known, mmol.

    name: as people say it. order_id: empty for a drug. added: more than a balanced fluid holds.
    ends: when it is known to end.
    """

    name: str
    order_id: str
    added: bool
    per_hour: float | None
    per_day: float | None
    starts: datetime
    ends: datetime | None


def potassium_mmol_l(order: Order) -> float:
    """Potassium in one litre of the bag with its additives.

    The least of what an ambiguous name may mean. NotKnown("fluid") when nothing can be said.
    """
    if order.mix is not None:
        return order.mix.potassium_mmol_l
    mixes = [mixture(fluid, order.additives, order.volume_ml) for fluid in order.candidates]
    amounts = [mix.potassium_mmol_l for mix in mixes if mix is not None]
    if not amounts:
        raise NotKnown("fluid", "missing", f"what is in “{order.written}” cannot be worked out")
    return min(amounts)


def sources_of_potassium(case: Case) -> tuple[PotassiumSource, ...]:
    """Every order and drug that brings potassium, whatever its rate.

    NotKnown("fluid") when an order's content cannot be worked out.
    """
    return (*_of_orders(case), *_of_drugs(case))


def peak_mmol_h(sources: tuple[PotassiumSource, ...]) -> tuple[float, tuple[PotassiumSource, ...]]:
    """The most potassium given in any hour, mmol/h, and the sources it then comes from.

    Orders that follow each other are not added up. A source with no rate is left out.
    """
    moments = {source.starts for source in sources}
    at_once = [
        tuple(s for s in sources if s.starts <= m and (s.ends is None or m < s.ends))
        for m in moments
    ]
    sums = [(sum(s.per_hour or 0.0 for s in running), running) for running in at_once]
    return max(sums, key=lambda pair: pair[0], default=(0.0, ()))


def _of_orders(case: Case) -> Iterator[PotassiumSource]:
    for order in case.orders:
        per_litre = potassium_mmol_l(order)
        if not per_litre:
            continue
        starts = max(order.starts_at or case.now, case.now)
        litres = _litres_per_day(order)
        yield PotassiumSource(
            name=order.fluid.name if order.fluid else order.written,
            order_id=order.id,
            added=per_litre > BALANCED_AT_MOST_MMOL_L,
            per_hour=order.per_hour(per_litre),
            per_day=None if litres is None else per_litre * litres,
            starts=starts,
            ends=_end(order, starts),
        )


def _litres_per_day(order: Order) -> float | None:
    """A single dose counts once; anything else as long as it runs."""
    single = order.is_bolus or order.purpose in SINGLE_DOSES
    small = order.volume_ml is not None and order.volume_ml <= SINGLE_DOSE_TO_ML
    if order.volume_ml is not None and (single or (small and order.purpose != "maintenance")):
        return order.volume_ml / ML_PER_L
    return order.litres_per_day


def _end(order: Order, starts: datetime) -> datetime | None:
    single = order.stated_duration or order.is_bolus or order.purpose in SINGLE_DOSES
    if not single or order.duration_h is None:
        return None
    return starts + timedelta(hours=order.duration_h)


def _of_drugs(case: Case) -> Iterator[PotassiumSource]:
    for drug in case.co_infusions:
        amount = drug.brings.potassium_mmol_l if drug.brings else 0.0
        if not amount and "potassium" not in drug.contents:
            continue
        hours = _hours(drug)
        yield PotassiumSource(
            name=drug.name,
            order_id="",
            added=True,
            per_hour=amount / hours if amount and hours else None,
            per_day=amount or None,
            starts=case.now,
            ends=timedelta(hours=hours) + case.now if hours else None,
        )


def _hours(drug: CoInfusion) -> float | None:
    if drug.duration_min:
        return drug.duration_min / MINUTES_PER_HOUR
    if drug.volume_ml and drug.rate_ml_h:
        return drug.volume_ml / drug.rate_ml_h
    return None
