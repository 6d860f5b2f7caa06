"""What a patient's orders and other infusions bring in 24 hours, and who is meant to get it."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from datetime import timedelta
from typing import Final

from app.catalogue.fluid import ML_PER_L
from app.cautions.facts import CARRIER_ML_H
from app.chemistry.composition import Composition
from app.chemistry.mixing import scaled
from app.patient.case import Case
from app.patient.known import known
from app.patient.once import once_each
from app.patient.order import Order
from app.patient.snapshot import Snapshot
from app.physiology.body import FIVE_FEET_CM, ideal_weight_kg

HOURS_PER_DAY: Final = 24.0
SECONDS_PER_HOUR: Final = 3600.0
# Above this an order with no stated purpose is taken for resuscitation or replacement.
UPKEEP_TO_ML_H: Final = 250.0
OBESE_FROM_BMI: Final = 30.0
CM_PER_M: Final = 100.0
# Conditions that lose or lack fluid, or in which units usually give more than maintenance.
LOSSES: Final = (
    "dehydration", "hypovolaemia", "diarrhoea", "vomiting", "gastric_losses", "bicarbonate_loss",
    "pyloric_stenosis", "burns", "major_burns", "haemorrhage", "massive_transfusion", "shock",
    "septic_shock", "diabetic_ketoacidosis", "hyperosmolar_state", "diabetes_insipidus",
    "rhabdomyolysis", "tumour_lysis", "hypercalcaemia", "hypernatraemia", "urine_alkalinisation",
    "salicylate_poisoning", "adrenal_crisis", "subarachnoid_haemorrhage", "labour",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Day:
    """Amounts in 24 h: mL, mmol, g of anhydrous glucose.

    order_ids: the orders counted. at_least: something could not be counted, so every sum is a
    lower bound. elsewhere_ml: the part that drugs and other infusions bring.
    """

    water_ml: float = 0.0
    sodium_mmol: float = 0.0
    potassium_mmol: float = 0.0
    chloride_mmol: float = 0.0
    glucose_g: float = 0.0
    elsewhere_ml: float = 0.0
    order_ids: tuple[str, ...] = ()
    at_least: bool = False

    @property
    def prefix(self) -> str:
        """ "at least " when the sums are lower bounds."""
        return "at least " if self.at_least else ""


def running_h(order: Order, case: Case) -> float | None:
    """How long an order has run, h, as told or from its start; None when neither is known."""
    if order.running_h is not None or order.starts_at is None:
        return order.running_h
    hours = (case.now - order.starts_at).total_seconds() / SECONDS_PER_HOUR
    return hours if hours > 0 else None


def overlap(first: Order, second: Order, case: Case) -> bool:
    """Whether two orders run at one time; an order without a start runs now."""
    one, other = first.starts_at or case.now, second.starts_at or case.now
    return one < other + _length(second) and other < one + _length(first)


def _length(order: Order) -> timedelta:
    if order.duration_h is not None:
        return timedelta(hours=order.duration_h)
    if order.volume_ml is not None and order.rate_ml_h:
        return timedelta(hours=order.volume_ml / order.rate_ml_h)
    return timedelta(days=1)


def litres_in_day(order: Order, case: Case) -> float | None:
    """Litres in 24 h at an order's pace, L.

    Maintenance goes on when its bag is empty, so that a litre over 8 h is 3 L a day, unless the
    next bag is an order of its own. A drug's bag is given as often as the drug is. None with
    neither rate nor volume.
    """
    doses = doses_a_day(order, case)
    if doses and order.volume_ml is not None:
        return doses * order.volume_ml / ML_PER_L
    if order.rate_ml_h is None or order.is_over or not is_kept_up(order, case):
        return order.litres_per_day
    return order.rate_ml_h * HOURS_PER_DAY / ML_PER_L


def is_kept_up(order: Order, case: Case) -> bool:
    """Stated maintenance of which the next bag is no order of its own."""
    if not is_stated_upkeep(order):
        return False
    others = (o for o in case.orders if o is not order and is_stated_upkeep(o) and not o.is_over)
    return all(overlap(order, other, case) for other in others)


def doses_a_day(order: Order, case: Case) -> float | None:
    """How often a day the drug in an order's bag is given, as written; None when it is not."""
    carried = (other for other in case.co_infusions if other.carried_by == order.id)
    return max((other.schedule.doses_per_day or 0.0 for other in carried), default=0.0) or None


def documented_losses(patient: Snapshot) -> tuple[str, ...]:
    """The recorded conditions that call for more than maintenance, as people say them."""
    return tuple(key.replace("_", " ") for key in LOSSES if key in patient.conditions)


def is_upkeep(order: Order) -> bool:
    """Maintenance by its stated purpose, or by its rate where no purpose is stated."""
    if order.purpose is not None:
        return order.purpose == "maintenance"
    if order.is_bolus or order.rate_ml_h is None:
        return False
    return CARRIER_ML_H < order.rate_ml_h <= UPKEEP_TO_ML_H


def is_stated_upkeep(order: Order) -> bool:
    """Maintenance by its stated purpose."""
    return order.purpose == "maintenance" and not order.is_bolus


def counts_towards_upkeep(order: Order) -> bool:
    """All but what is given on purpose beyond maintenance: boluses, replacement, resuscitation."""
    if order.is_bolus or order.purpose in ("resuscitation", "replacement", "redistribution"):
        return False
    return order.purpose is not None or (order.rate_ml_h or 0) <= UPKEEP_TO_ML_H


def whole_day(case: Case, counts: Callable[[Order], bool] = counts_towards_upkeep) -> Day:
    """Sum over the orders that count and every other infusion whose volume is known."""
    parts = [*_of_orders(case, counts), *_of_others(case)]
    return Day(
        water_ml=sum(p.water_ml for p in parts),
        sodium_mmol=sum(p.sodium_mmol for p in parts),
        potassium_mmol=sum(p.potassium_mmol for p in parts),
        chloride_mmol=sum(p.chloride_mmol for p in parts),
        glucose_g=sum(p.glucose_g for p in parts),
        elsewhere_ml=sum(p.elsewhere_ml for p in parts),
        order_ids=tuple(name for p in parts for name in p.order_ids),
        at_least=any(p.at_least for p in parts),
    )


@dataclass(frozen=True, slots=True)
class Upkeep:
    """An adult on maintenance: what the day brings, whether it is stated, what is being lost."""

    day: Day
    stated: bool
    losses: tuple[str, ...]


@once_each
def adult_upkeep(case: Case) -> Upkeep | None:
    """The day of an adult who gets maintenance; None for a child, in theatre, or without any.

    NotKnown("age_years") when nothing tells an adult from a child.
    """
    patient = case.patient
    orders = [order for order in case.orders if is_upkeep(order)]
    if not orders or patient.setting == "theatre" or not patient.is_adult():
        return None
    stated = any(is_stated_upkeep(order) for order in orders)
    return Upkeep(whole_day(case), stated, documented_losses(patient))


def weight_for_needs(patient: Snapshot) -> tuple[float, str]:
    """Weight for daily needs, kg, and its words: ideal weight from BMI 30 on.

    NotKnown without a weight. Without height or sex, or under 152.4 cm, the weight itself.
    """
    weight = known(patient.weight_kg, "weight_kg")
    height, sex = patient.height_cm, patient.sex
    if height is None or sex is None or height < FIVE_FEET_CM:
        return weight, f"{weight:g} kg"
    if weight / (height / CM_PER_M) ** 2 <= OBESE_FROM_BMI:
        return weight, f"{weight:g} kg"
    return ideal_weight_kg(height, sex), f"{ideal_weight_kg(height, sex):.0f} kg ideal weight"


def _of_orders(case: Case, counts: Callable[[Order], bool]) -> Iterator[Day]:
    for order in case.orders:
        if not counts(order):
            continue
        litres = litres_in_day(order, case)
        if litres is None:
            yield Day(order_ids=(order.id,), at_least=True)
        else:
            yield _of(litres, order.mix, (order.id,))


def _of_others(case: Case) -> Iterator[Day]:
    for other in case.co_infusions:
        if other.day_ml is None or other.kind == "blood" or other.carried_by:
            continue
        part = _of(
            other.day_ml / ML_PER_L,
            other.diluent.composition if other.diluent else Composition(),
            (),
        )
        held = scaled(other.brings or Composition(), other.times_a_day)
        yield replace(
            part,
            sodium_mmol=part.sodium_mmol + held.sodium_mmol_l,
            potassium_mmol=part.potassium_mmol + held.potassium_mmol_l,
            chloride_mmol=part.chloride_mmol + (held.chloride_mmol_l or 0.0),
            glucose_g=part.glucose_g + held.glucose_anhydrous_g_l,
            elsewhere_ml=part.water_ml,
            at_least=other.diluent is None,
        )


def _of(litres: float, mix: Composition | None, order_ids: tuple[str, ...]) -> Day:
    water_ml = litres * ML_PER_L
    if mix is None:
        return Day(water_ml=water_ml, order_ids=order_ids, at_least=True)
    return Day(
        water_ml=water_ml,
        sodium_mmol=mix.sodium_mmol_l * litres,
        potassium_mmol=mix.potassium_mmol_l * litres,
        chloride_mmol=(mix.chloride_mmol_l or 0.0) * litres,
        glucose_g=mix.glucose_anhydrous_g_l * litres,
        order_ids=order_ids,
        at_least=mix.chloride_mmol_l is None,
    )
