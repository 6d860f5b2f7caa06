"""Sodium over a day: measured and expected."""

from collections.abc import Mapping
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest

from app.catalogue.catalogue import Catalogue
from app.cautions.shared.fluid_facts import SodiumPoint
from app.cautions.shared.sodium_course import (
    carries_most,
    fall_expected,
    largest_move,
    rise_expected,
)
from app.patient.case import Case, Situation
from app.patient.known import NotKnown
from app.patient.observation import Observation
from app.patient.order import Order
from app.patient.snapshot import Snapshot

NOW = datetime(2031, 3, 4, 7, 0, tzinfo=UTC)
RISEN = (SodiumPoint(1, 121), SodiumPoint(9, 116), SodiumPoint(20, 112))


def test_the_window_that_moves_most_is_found() -> None:
    course = largest_move(RISEN, lambda hours: hours / 10, sign=1)
    assert (course.already, course.hours_back, course.hours_ahead) == (9, 20, 4)
    assert course.total == pytest.approx(9.4)


def test_a_fast_order_counts_for_the_whole_day_ahead_when_that_is_worse() -> None:
    course = largest_move(RISEN, lambda hours: float(hours), sign=1)
    assert course.already == 0
    assert course.total == 24


def test_a_fall_is_the_largest_move_down() -> None:
    falling = (SodiumPoint(1, 150), SodiumPoint(10, 158))
    assert largest_move(falling, lambda _: -1.0, sign=-1).total == -9


@pytest.fixture
def situation_of(catalogue: Catalogue) -> Any:  # noqa: ANN401 - a small factory
    def of(orders: Mapping[str, tuple[str, float]], sodium: float, weight: float | None) -> Case:
        seen = Observation("sodium", sodium, "mmol/L", NOW - timedelta(hours=1))
        patient = Snapshot(
            now=NOW, age_years=40, sex="male", weight_kg=weight, results={"sodium": (seen,)}
        )
        made = []
        for name, (fluid, rate) in orders.items():
            entry = catalogue.get(fluid)
            assert entry
            made.append(Order(name, fluid, entry, rate_ml_h=rate, mix=entry.composition))
        return Case(patient, tuple(made))

    return of


def test_one_litre_of_strong_saline_is_the_textbook_sum(situation_of: Any) -> None:  # noqa: ANN401
    case = situation_of({"a": ("sodium-chloride-3", 50)}, 108, 60)
    expected = rise_expected(Situation(case, case.orders[0]))
    assert expected(20) == pytest.approx((513 - 108) / 37)


def test_water_beside_it_takes_part_of_the_rise_away(situation_of: Any) -> None:  # noqa: ANN401
    alone = situation_of({"a": ("sodium-chloride-3", 30)}, 108, 60)
    both = situation_of({"a": ("sodium-chloride-3", 30), "b": ("dextrose-5", 60)}, 108, 60)
    rise = [rise_expected(Situation(case, case.orders[0]))(24) for case in (alone, both)]
    assert rise[1] < rise[0]


def test_losses_soften_a_fall(situation_of: Any) -> None:  # noqa: ANN401
    case = situation_of({"a": ("dextrose-5", 100)}, 160, 60)
    fall = fall_expected(Situation(case, case.orders[0]))(24)
    assert -160 * 2.4 / 38.4 < fall < 0


def test_a_forecast_needs_a_weight(situation_of: Any) -> None:  # noqa: ANN401
    case = situation_of({"a": ("dextrose-5", 100)}, 160, None)
    with pytest.raises(NotKnown, match="weight_kg"):
        fall_expected(Situation(case, case.orders[0]))


def test_it_is_said_once_of_the_order_that_moves_sodium_most(situation_of: Any) -> None:  # noqa: ANN401
    orders = {"a": ("sodium-chloride-0.9", 100), "b": ("sodium-chloride-3", 40)}
    case = situation_of(orders, 110, 70)
    said = [carries_most(Situation(case, order), 110) for order in case.orders]
    assert said == [False, True]
