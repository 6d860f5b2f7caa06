"""Drugs that run beside the fluids, over the hours looked ahead: what carries them, and flushes."""

from collections.abc import Iterator
from typing import Final

from app.catalogue.fluid import ML_PER_L
from app.catalogue.vehicles.vehicle import Vehicle, Vehicles
from app.cautions.phrases import hours_text, number, opening
from app.chemistry.composition import Composition
from app.chemistry.mixing import added, scaled
from app.patient.order import CoInfusion
from app.review.ledger.drugs import ELECTROLYTES, Carrier, Patient, why_no_volume
from app.review.ledger.giving import HOURS_PER_DAY, Giving, giving_of, is_a_fluid
from app.review.predict.insulin import INSULIN
from app.review.running.insulin import insulin_part
from app.review.running.part import (
    MINUTES_PER_HOUR,
    Part,
    dose_times,
    every,
    given_at,
    left_out,
    running,
)

# A dose of which nobody wrote how long it takes (common practice, no source).
USUAL_MIN: Final = 30.0
FLUSH_MIN: Final = 1.0
BLOOD: Final = "blood is not in this prediction"
NUTRITION: Final = "not all that nutrition holds is known"
NO_AMOUNT: Final = "no amount is written"
NO_CARRIER: Final = "the fluid that carries it is not written"
NOT_SETTLED: Final = "what it holds is not settled"
ADULT_ONLY: Final = "its usual volume is known for adults only"


def infusion_part(
    other: CoInfusion, vehicles: Vehicles, patient: Patient, ahead_min: float
) -> Part:
    """What an infusion brings until so many minutes from now.

    One in an order's bag brings nothing of its own: its bag is the order's.
    """
    if other.carried_by:
        return Part()
    if other.key == INSULIN:
        return insulin_part(other, vehicles, patient, ahead_min)
    usual, name = vehicles.get(other.key), opening(other.name)
    giving, carrier = giving_of(other, usual, adult=patient.adult), Carrier.of(other, usual)
    mix = _mix(other, carrier, giving)
    if giving.day_ml is None or mix is None or _cannot(other, carrier):
        return left_out(name, _cannot(other, carrier) or _lack(other, usual, giving, patient))
    own = tuple(_own_sodium(name, other, usual, patient))
    if not giving.doses:
        ml_h = giving.day_ml / HOURS_PER_DAY
        pace = f"{number(ml_h)} mL/h{_in(other, carrier)} throughout"
        return Part((running(mix, ml_h, (0.0, ahead_min)),), f"{name}: {pace}", own)
    ml, minutes = giving.day_ml / giving.doses, dose_min(other, usual)
    times = dose_times(giving.doses, ahead_min)
    loads = given_at(mix, ml, minutes, times)
    pace = f"{number(ml)} mL{_in(other, carrier)} over {hours_text(minutes / MINUTES_PER_HOUR)}"
    often = "one from now; how often is not written" if giving.more_may_come else None
    words = f"{name}: {pace}, {often or every(giving.doses)}"
    if vehicles.flush is None or usual is None or not usual.flush_ml or not patient.adult:
        return Part(loads, words, own)
    after = tuple(at + minutes for at in times if at + minutes < ahead_min)
    flushes = given_at(vehicles.flush.composition, usual.flush_ml, FLUSH_MIN, after)
    return Part((*loads, *flushes), f"{words}, and {usual.flush_ml:g} mL to flush", own)


def _cannot(other: CoInfusion, carrier: Carrier) -> str:
    """Why what it holds cannot be told; empty when it can."""
    if other.kind == "blood":
        return BLOOD
    if other.kind == "nutrition":
        return NUTRITION
    if other.brings is None and not other.contents.isdisjoint(ELECTROLYTES):
        return "" if is_a_fluid(other) else NO_AMOUNT
    return NOT_SETTLED if carrier.unknown - {"chloride_mmol"} else ""


def _lack(other: CoInfusion, usual: Vehicle | None, giving: Giving, patient: Patient) -> str:
    if giving.day_ml is not None:
        return NO_CARRIER
    why = why_no_volume(other, usual, patient).removesuffix(", not counted")
    return ADULT_ONLY if why == "adult volume" else why


def _mix(other: CoInfusion, carrier: Carrier, giving: Giving) -> Composition | None:
    """What a litre holds; what is written to be dissolved in nothing told is taken as in water."""
    base = carrier.composition
    if other.brings is None or not giving.day_ml:
        return base
    held = scaled(other.brings, giving.times * ML_PER_L / giving.day_ml)
    return added(base or Composition(), held)


def _in(other: CoInfusion, carrier: Carrier) -> str:
    """What carries it, where its words do not say."""
    if carrier.is_usual:
        return f" of {carrier.name} (usual)"
    if carrier.composition is None and other.brings is not None:
        return " (taken as in water)"
    return ""


def dose_min(other: CoInfusion, usual: Vehicle | None) -> float:
    """How long one dose takes: as written, as usual, or half an hour."""
    if other.duration_min:
        return other.duration_min
    if other.volume_ml and other.rate_ml_h:
        return other.volume_ml / other.rate_ml_h * MINUTES_PER_HOUR
    return USUAL_MIN if usual is None or usual.minutes is None else usual.minutes


def _own_sodium(
    name: str, other: CoInfusion, usual: Vehicle | None, patient: Patient
) -> Iterator[str]:
    """A drug's own sodium comes with an anion that the prediction does not know."""
    if usual is None or not usual.sodium_mmol_per_g or other.brings is not None:
        return
    written = other.schedule.grams(patient.weight_kg)
    grams = written if written is not None else usual.dose_g if patient.adult else None
    much = "" if grams is None else f", {number(grams * usual.sodium_mmol_per_g)} mmol a dose"
    yield f"{name}: the sodium of the drug itself{much}"
