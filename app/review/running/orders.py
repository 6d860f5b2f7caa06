"""A fluid order over the hours ahead: what is left of its bag, from now or from when it is due."""

from dataclasses import dataclass
from typing import Final

from app.catalogue.fluid import ML_PER_L
from app.cautions.day_loads import doses_a_day, is_kept_up, running_h
from app.cautions.phrases import hours_text, number, opening, volume_text
from app.chemistry.composition import Composition
from app.patient.case import Case
from app.patient.order import Order
from app.review.predict.insulin import INSULIN, units_in
from app.review.running.part import (
    LEAST_ML,
    MINUTES_PER_HOUR,
    Part,
    dose_times,
    every,
    given_at,
    left_out,
    running,
)

SECONDS_PER_MINUTE: Final = 60.0


def order_part(order: Order, case: Case, ahead_min: float) -> Part:
    """What an order still gives until so many minutes from now."""
    name, why = called(order), _why_not(order)
    if why or order.mix is None or not order.rate_ml_h:
        return left_out(name, why)
    flow = _Flow(name, order.mix, order.rate_ml_h, _insulin_units_ml(order, case))
    doses = doses_a_day(order, case)
    if doses and order.volume_ml is not None:
        return flow.doses(order.volume_ml, doses, ahead_min)
    starts = starts_min(order, case)
    if starts >= ahead_min:
        return left_out(name, f"is due in {hours_text(starts / MINUTES_PER_HOUR)}, later than this")
    ends, how = ends_min(order, order.rate_ml_h, case, starts)
    if ends <= starts:
        return left_out(name, how)
    return flow.between(starts, min(ends, ahead_min), how)


@dataclass(frozen=True, slots=True)
class _Flow:
    """A bag by its name, what a litre holds, its pace, and the insulin in each mL."""

    name: str
    mix: Composition
    ml_h: float
    insulin_units_ml: float = 0.0

    def between(self, starts: float, ends: float, how: str) -> Part:
        """It runs from one minute to another."""
        begins = f"from {hours_text(starts / MINUTES_PER_HOUR)} on " if starts else ""
        length = hours_text((ends - starts) / MINUTES_PER_HOUR)
        words = f"{self.name}: {number(self.ml_h)} mL/h {begins}for {length}, {how}"
        insulin = self.insulin_units_ml * self.ml_h
        return Part((running(self.mix, self.ml_h, (starts, ends), insulin),), words)

    def doses(self, ml: float, doses_a_day: float, ahead_min: float) -> Part:
        """It is given as often as the drug in it."""
        hours = ml / self.ml_h
        times = dose_times(doses_a_day, ahead_min)
        words = f"{self.name}: {number(ml)} mL over {hours_text(hours)}, {every(doses_a_day)}"
        return Part(given_at(self.mix, ml, hours * MINUTES_PER_HOUR, times), words)


def called(order: Order) -> str:
    """The bag with what is put into it, as one line of a list begins."""
    name = order.fluid.name if order.fluid and not order.candidates else f"“{order.written}”"
    added = [dose.as_written or dose.substance for dose in order.additives]
    return opening(f"{name} with {' and '.join(added)}" if added else name)


def goes_on(order: Order, case: Case) -> bool:
    """Whether the next bag is hung when this one is empty, as the day's sums count it."""
    return not order.is_given_once or is_kept_up(order, case)


def _why_not(order: Order) -> str:
    """Why an order cannot be counted at all; empty when it can."""
    if order.is_over:
        return "its bag is empty by now"
    if order.candidates:
        return f"may mean {len(order.candidates)} fluids"
    if order.fluid is None:
        return "which fluid this is, is not known"
    if order.fluid.never_hung and order.fluid.composition.potassium_mmol_l:
        return "is never hung as it is"
    if order.mix is None:
        return "what was put into it is not understood"
    if not order.rate_ml_h:
        return "no rate is written"
    if order.follows and order.starts_at is None:
        return "runs after another, and when that ends is not known"
    return ""


def _insulin_units_ml(order: Order, case: Case) -> float:
    """Soluble insulin in each mL of the bag, as far as its units are written."""
    if not order.volume_ml:
        return 0.0
    weight_kg = case.patient.weight_kg
    insulin = (dose for dose in order.additives if dose.substance == INSULIN)
    units = (units_in(dose, order.volume_ml, weight_kg) or 0.0 for dose in insulin)
    return sum(units) / order.volume_ml


def starts_min(order: Order, case: Case) -> float:
    """Minutes until it starts; 0 for what runs."""
    if order.starts_at is None:
        return 0.0
    return max((order.starts_at - case.now).total_seconds() / SECONDS_PER_MINUTE, 0.0)


def ends_min(order: Order, ml_h: float, case: Case, starts: float) -> tuple[float, str]:
    """When it ends, minutes from now, and how that is known."""
    if goes_on(order, case):
        return float("inf"), "its bag taken to be renewed"
    if order.whole_ml is None:
        return float("inf"), "no end written"
    ran_h = running_h(order, case) or 0.0
    left_ml = order.whole_ml - ml_h * ran_h
    whole = volume_text(order.whole_ml / ML_PER_L)
    if left_ml < LEAST_ML:
        return starts, f"its {whole} should be in by now"
    said = f"{volume_text(left_ml / ML_PER_L)} of {whole} left" if ran_h else whole
    return starts + left_ml / ml_h * MINUTES_PER_HOUR, said
