"""Insulin that runs by itself: what it does by its units, what carries it by its rate."""

from typing import Final

from app.catalogue.vehicles.vehicle import Vehicles
from app.cautions.phrases import number, opening
from app.chemistry.composition import Composition
from app.patient.order import CoInfusion
from app.review.ledger.drugs import Carrier, Patient
from app.review.ledger.giving import HOURS_PER_DAY, giving_of
from app.review.predict.insulin import units_an_hour
from app.review.running.part import Part, left_out, running

NOT_RECKONED: Final = "; this is not reckoned."
NO_WATER: Final = "what carries it is not counted"


def insulin_part(other: CoInfusion, vehicles: Vehicles, patient: Patient, ahead_min: float) -> Part:
    """Soluble insulin at the one rate its words give, for all the time looked ahead."""
    name = opening(other.name)
    units_h = units_an_hour(other.name, patient.weight_kg)
    if isinstance(units_h, str):
        return left_out(name, units_h.removesuffix(NOT_RECKONED).removesuffix("."))
    usual = vehicles.get(other.key)
    day_ml = giving_of(other, usual, adult=patient.adult).day_ml
    carrier = Carrier.of(other, usual).composition
    ml_h = 0.0 if day_ml is None or carrier is None else day_ml / HOURS_PER_DAY
    load = running(carrier or Composition(), ml_h, (0.0, ahead_min), units_h)
    carried = f"{number(ml_h)} mL/h" if ml_h else NO_WATER
    return Part((load,), f"{name}: {number(units_h)} units/h throughout, {carried}")
