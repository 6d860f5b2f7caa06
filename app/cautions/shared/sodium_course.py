"""Sodium over a day: what has been measured, and what the orders still to run will add."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final, Literal

from app.catalogue.fluid import ML_PER_L
from app.cautions.phrases import hours_text, number
from app.cautions.shared.fluid_facts import (
    HOURS_PER_DAY,
    SodiumPoint,
    body_water_l,
    child,
    litres_within,
)
from app.patient.case import Case, Situation
from app.patient.known import known
from app.patient.order import Order
from app.patient.snapshot import Snapshot
from app.physiology.sodium import sodium_change_of_balance_mmol_l

# Water lost through skin and breath, mL/kg/day (textbook, from memory).
UNSEEN_ADULT_ML_KG_DAY: Final = 10.0
UNSEEN_CHILD_ML_KG_DAY: Final = 20.0
# Urine that is not measured is taken at the least that is normal, and half of any urine as free
# water (common practice, no source).
LEAST_URINE_ML_KG_H: Final = 0.5
WATER_OF_URINE: Final = 0.5

Expected = Callable[[float], float]


@dataclass(frozen=True, slots=True)
class Course:
    """The 24 hours in which sodium moves most, mmol/L and h.

    already: measured so far in it. expected: from the orders in what is left of it.
    """

    newest: float
    lowest: float
    already: float
    hours_back: float
    expected: float
    hours_ahead: float
    history: str

    @property
    def total(self) -> float:
        """Measured plus expected, mmol/L in the 24 hours."""
        return self.already + self.expected

    @property
    def ahead(self) -> str:
        """What the orders may do in what is left, as it is said: "raise it by 0.6 mmol/L …"."""
        change = round(self.expected, 1)
        over = hours_text(self.hours_ahead)
        if not change:
            return f"change it no further in {over}"
        way = "raise" if change > 0 else "lower"
        return f"{way} it by {number(abs(change))} mmol/L in {over}"


def largest_move(
    points: Sequence[SodiumPoint], expected: Expected, *, sign: Literal[1, -1]
) -> Course:
    """The 24 hours, from one of the results on, with the largest move up (1) or down (-1).

    points: newest first. expected: change by the orders in so many hours, mmol/L.
    """
    newest = points[0].sodium_mmol_l
    courses = [_course(points, point, expected, newest) for point in points]
    return max(courses, key=lambda course: sign * course.total)


def _course(
    points: Sequence[SodiumPoint], start: SodiumPoint, expected: Expected, newest: float
) -> Course:
    hours_ahead = HOURS_PER_DAY - (0.0 if start is points[0] else start.hours_ago)
    results = ", ".join(
        f"{number(p.sodium_mmol_l)} mmol/L ({hours_text(p.hours_ago)} ago)" for p in points
    )
    return Course(
        newest=newest,
        lowest=min(point.sodium_mmol_l for point in points),
        already=newest - start.sodium_mmol_l,
        hours_back=start.hours_ago,
        expected=expected(hours_ahead),
        hours_ahead=hours_ahead,
        history=f"Sodium {results}",
    )


def rise_expected(situation: Situation) -> Expected:
    """Change by all orders together in so many hours, mmol/L; no losses, never below zero.

    NotKnown without weight, or this order's rate.
    """
    water_l = body_water_l(situation.patient)
    known(litres_within(situation.order, HOURS_PER_DAY), "rate_ml_h")
    return lambda hours: max(0.0, _change(situation.case, hours, water_l, lost_l=0.0))


def fall_expected(situation: Situation) -> Expected:
    """As rise_expected, for a fall: losses are taken off the water; never above zero."""
    water_l = body_water_l(situation.patient)
    known(litres_within(situation.order, HOURS_PER_DAY), "rate_ml_h")
    lost_l_h = _water_lost_ml_h(situation.patient) / ML_PER_L
    return lambda hours: min(0.0, _change(situation.case, hours, water_l, lost_l=lost_l_h * hours))


def _water_lost_ml_h(patient: Snapshot) -> float:
    """Free water lost each hour by skin, breath and urine, mL; NotKnown without a weight."""
    weight_kg = known(patient.weight_kg, "weight_kg")
    per_kg = UNSEEN_CHILD_ML_KG_DAY if child(patient) else UNSEEN_ADULT_ML_KG_DAY
    urine = patient.urine_ml_h
    if urine is None:
        urine = LEAST_URINE_ML_KG_H * weight_kg
    return per_kg * weight_kg / HOURS_PER_DAY + WATER_OF_URINE * urine


def _change(case: Case, hours: float, water_l: float, *, lost_l: float) -> float:
    gains = [_gain(order, hours) for order in case.orders]
    return sodium_change_of_balance_mmol_l(
        salt_gain_mmol=sum(salt for salt, _ in gains),
        water_gain_l=sum(litres for _, litres in gains) - lost_l,
        sodium_mmol_l=case.patient.value("sodium"),
        body_water_l=water_l,
    )


def _gain(order: Order, hours: float) -> tuple[float, float]:
    """Salt, mmol, and water, L, that an order brings; nothing where it cannot be told."""
    litres = litres_within(order, hours)
    if order.mix is None or litres is None:
        return 0.0, 0.0
    return litres * order.mix.cation_salt_mmol_l, litres


def carries_most(situation: Situation, sodium_mmol_l: float) -> bool:
    """True when no other order moves sodium further in this order's direction."""
    mine = _pull(situation.order, sodium_mmol_l)
    furthest = max if mine >= 0 else min
    first = furthest(situation.case.orders, key=lambda order: _pull(order, sodium_mmol_l))
    return first is situation.order


def _pull(order: Order, sodium_mmol_l: float) -> float:
    salt, litres = _gain(order, HOURS_PER_DAY)
    return salt - litres * sodium_mmol_l
