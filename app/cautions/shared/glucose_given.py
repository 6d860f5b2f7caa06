"""How much glucose the orders give."""

from typing import Final

from app.catalogue.fluid import ML_PER_L
from app.cautions.shared.fluid_facts import HOURS_PER_DAY, litres_within
from app.cautions.shared.veins import SHORT_H, hours_to_run
from app.patient.case import Case
from app.patient.order import Order
from app.patient.snapshot import Snapshot
from app.physiology.glucose import glucose_mg_kg_min

# Glucose of a carrier: 250 mL of 5%, or half a gram for each kilogram (common practice).
MG_PER_G: Final = 1000.0
MINUTES_PER_HOUR: Final = 60.0
CARRIER_G: Final = 13.0
CARRIER_G_KG: Final = 0.5


def glucose_g_day(order: Order) -> float:
    """Glucose an order gives in 24 h, g as anhydrous; nothing where it cannot be told."""
    litres = litres_within(order, HOURS_PER_DAY)
    if order.mix is None or litres is None:
        return 0.0
    return order.mix.glucose_anhydrous_g_l * litres


def brings_little_glucose(order: Order, patient: Snapshot) -> bool:
    """True for what a drug's carrier brings in a day; an unknown volume is not called little."""
    if order.mix is not None and litres_within(order, HOURS_PER_DAY) is None:
        return False
    by_weight = None if patient.weight_kg is None else CARRIER_G_KG * patient.weight_kg
    return glucose_g_day(order) <= min(CARRIER_G, by_weight or CARRIER_G)


def runs_on(order: Order) -> bool:
    """Neither a bolus nor a dose of an hour at most."""
    hours = hours_to_run(order)
    return not order.is_bolus and (hours is None or hours > SHORT_H)


def glucose_orders(case: Case) -> tuple[Order, ...]:
    """The orders with glucose that run on at a known rate."""
    return tuple(
        order
        for order in case.orders
        if order.rate_ml_h and runs_on(order) and _strength(order, as_labelled=False)
    )


def mg_kg_min(case: Case, weight_kg: float, *, as_labelled: bool = False) -> float:
    """Glucose of all orders that run on together, mg/kg/min; as_labelled: by the label's grams."""
    return nutrition_mg_kg_min(case, weight_kg) + sum(
        glucose_mg_kg_min(
            rate_ml_h=order.rate_ml_h or 0.0,
            glucose_g_l=_strength(order, as_labelled),
            weight_kg=weight_kg,
        )
        for order in glucose_orders(case)
    )


def nutrition_mg_kg_min(case: Case, weight_kg: float) -> float:
    """What nutrition beside the orders brings by its words, spread over its time or a day."""
    given = 0.0
    for other in case.co_infusions:
        if other.kind == "nutrition" and other.brings is not None and not other.carried_by:
            hours = HOURS_PER_DAY
            if other.volume_ml and other.rate_ml_h:
                hours = other.volume_ml / other.rate_ml_h
            given += other.brings.glucose_g_l / hours
    return given * MG_PER_G / MINUTES_PER_HOUR / weight_kg


def _strength(order: Order, as_labelled: bool) -> float:
    """Glucose in a litre, g; of nutrition, what its words put into the whole volume."""
    if order.mix is not None:
        return order.mix.glucose_g_l if as_labelled else order.mix.glucose_anhydrous_g_l
    if order.fluid is not None or order.candidates or not order.volume_ml:
        return 0.0
    told = sum(a.added.glucose_g_l for a in order.additives if not a.per_litre)
    by_litre = sum(a.added.glucose_g_l for a in order.additives if a.per_litre)
    return by_litre + told * ML_PER_L / order.volume_ml
