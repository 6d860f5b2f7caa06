"""Potassium given: how strong the bag, how much each hour, how much in a day."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final, Literal

from app.catalogue.fluid import ML_PER_L
from app.patient.case import Case
from app.patient.known import NotKnown
from app.patient.mixture import mixture
from app.patient.order import CoInfusion, Order

# Five mmol/L is the most that a balanced fluid of the catalogue holds; above, it was added.
BALANCED_AT_MOST_MMOL_L: Final = 5.5
# A small bag is a single dose, not a fluid that is hung again. Common practice, no source.
SINGLE_DOSE_TO_ML: Final = 250.0
MINUTES_PER_HOUR: Final = 60.0
# An additive that could not be read is potassium all the same when it is named so.
POTASSIUM_WORDS: Final = ("potassium", "kcl", "k+")
SINGLE_DOSES: Final = ("correction", "resuscitation")


@dataclass(frozen=True, slots=True)
class PotassiumSource:
    """One infusion that brings potassium, or that cannot be told.

    name: as people say it. order_id: empty for a drug. added: more than a balanced fluid holds.
    single: one dose, not hung again. per_hour, per_day: mmol, None when not known; lacks then
    names the input without which they are not.
    """

    name: str
    order_id: str
    added: bool
    starts: datetime
    single: bool = False
    per_hour: float | None = None
    per_day: float | None = None
    ends: datetime | None = None
    lacks: Literal["", "fluid", "rate_ml_h", "volume_ml", "co_infusions"] = ""


def potassium_mmol_l(order: Order) -> float:
    """Potassium in one litre of the bag with its additives.

    The least of what an ambiguous name may mean; the additives' own where no fluid is named.
    NotKnown("fluid") when nothing can be said, NotKnown("volume_ml") when added potassium cannot
    be spread over the bag.
    """
    if order.mix is not None:
        return order.mix.potassium_mmol_l
    if order.fluid is not None and not potassium_is_added(order):
        return order.fluid.composition.potassium_mmol_l
    mixes = [mixture(fluid, order.additives, order.volume_ml) for fluid in order.candidates]
    amounts = [mix.potassium_mmol_l for mix in mixes if mix is not None]
    if amounts:
        return min(amounts)
    added = None if order.fluid else _from_additives(order)
    if added:
        return added
    if order.fluid is not None or order.candidates:
        raise NotKnown("volume_ml", "missing", f"the volume of “{order.written}” is not told")
    raise NotKnown("fluid", "missing", f"“{order.written}” is not understood")


def _from_additives(order: Order) -> float | None:
    """Potassium in a litre from what is named as added; None when it cannot be worked out."""
    if any(additive.unread for additive in order.additives):
        return None
    total = sum(a.added.potassium_mmol_l for a in order.additives if not a.per_litre)
    by_litre = sum(a.added.potassium_mmol_l for a in order.additives if a.per_litre)
    if not total:
        return by_litre or None
    return None if order.volume_ml is None else by_litre + total * ML_PER_L / order.volume_ml


def potassium_is_added(order: Order) -> bool:
    """True when an additive is potassium, whether or not its amount could be read."""
    return any(
        a.added.potassium_mmol_l or any(word in a.substance.lower() for word in POTASSIUM_WORDS)
        for a in order.additives
    )


def adds_potassium(order: Order, balanced_mmol_l: float = BALANCED_AT_MOST_MMOL_L) -> bool:
    """True when the bag holds more potassium than a balanced fluid, or potassium was added to it.

    NotKnown("fluid") when the fluid is not understood and nothing says that potassium is in it.
    """
    if order.mix is not None:
        return order.mix.potassium_mmol_l > balanced_mmol_l
    if potassium_is_added(order):
        return True
    return potassium_mmol_l(order) > balanced_mmol_l


def drug_brings_potassium(drug: CoInfusion, balanced_mmol_l: float) -> bool:
    """True for a potassium drug, and for a fluid beside the orders that has it added."""
    if drug.diluent is not None and drug.key == drug.diluent.id:
        return drug.diluent.composition.potassium_mmol_l > balanced_mmol_l
    return "potassium" in drug.contents


def potassium_given(order: Order) -> str:
    """How much potassium the order gives, in words: each hour, or in each litre, or as written."""
    if order.mix is None:
        added = [a.as_written or a.substance for a in order.additives]
        return f"potassium as written ({added[0]})" if added else "potassium"
    per_hour = order.per_hour(order.mix.potassium_mmol_l)
    if per_hour is None:
        return f"{order.mix.potassium_mmol_l:.3g} mmol/L of potassium"
    return f"{per_hour:.2g} mmol/h of potassium"


def sources_of_potassium(case: Case) -> tuple[PotassiumSource, ...]:
    """Every order and drug that brings potassium, and every order of which it cannot be told."""
    orders = (_of_order(order, case) for order in case.orders)
    return tuple(source for source in (*orders, *_of_drugs(case)) if source is not None)


def peak_mmol_h(sources: tuple[PotassiumSource, ...]) -> tuple[float, tuple[PotassiumSource, ...]]:
    """The most potassium given at any one time, mmol/h, and the sources it then comes from.

    Orders that follow each other are not added up. A source with no rate is left out.
    """
    moments = {source.starts for source in sources}
    at_once = [
        tuple(s for s in sources if s.starts <= m and (s.ends is None or m < s.ends))
        for m in moments
    ]
    sums = [(sum(s.per_hour or 0.0 for s in running), running) for running in at_once]
    return max(sums, key=lambda pair: pair[0], default=(0.0, ()))


def _of_order(order: Order, case: Case) -> PotassiumSource | None:
    name = order.called
    starts = max(order.starts_at or case.now, case.now)
    try:
        per_litre = potassium_mmol_l(order)
    except NotKnown as lack:
        needs: Literal["fluid", "volume_ml"] = "volume_ml" if lack.need == "volume_ml" else "fluid"
        added = potassium_is_added(order)
        return PotassiumSource(name, order.id, added, starts, lacks=needs)
    if not per_litre:
        return None
    single = _is_single(order)
    litres = _litres_per_day(order, single)
    return PotassiumSource(
        name=name,
        order_id=order.id,
        added=per_litre > BALANCED_AT_MOST_MMOL_L,
        starts=starts,
        single=single,
        per_hour=order.per_hour(per_litre),
        per_day=None if litres is None else per_litre * litres,
        ends=_end(order, starts, single),
        lacks="rate_ml_h" if order.rate_ml_h is None else "",
    )


def _is_single(order: Order) -> bool:
    if order.is_bolus or order.purpose in SINGLE_DOSES:
        return True
    small = order.volume_ml is not None and order.volume_ml <= SINGLE_DOSE_TO_ML
    return small and order.purpose != "maintenance"


def _litres_per_day(order: Order, single: bool) -> float | None:
    """A single dose counts once; anything else as long as it runs."""
    if single and order.volume_ml is not None:
        return order.volume_ml / ML_PER_L
    return order.litres_per_day


def _end(order: Order, starts: datetime, single: bool) -> datetime | None:
    if order.duration_h is None or not (single or order.stated_duration):
        return None
    return starts + timedelta(hours=order.duration_h)


def _of_drugs(case: Case) -> Iterator[PotassiumSource]:
    for drug in case.co_infusions:
        amount = drug.brings.potassium_mmol_l if drug.brings else 0.0
        if not amount and not drug_brings_potassium(drug, BALANCED_AT_MOST_MMOL_L):
            continue
        hours = _hours(drug)
        yield PotassiumSource(
            name=drug.name,
            order_id="",
            added=True,
            starts=case.now,
            single=True,
            per_hour=amount / hours if amount and hours else None,
            per_day=amount or None,
            ends=case.now + timedelta(hours=hours) if hours else None,
            lacks="" if amount and hours else "co_infusions",
        )


def _hours(drug: CoInfusion) -> float | None:
    if drug.duration_min:
        return drug.duration_min / MINUTES_PER_HOUR
    if drug.volume_ml and drug.rate_ml_h:
        return drug.volume_ml / drug.rate_ml_h
    return None
