"""Bags that are given one after another."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

from app.intake.orders.sequence import in_turn
from app.patient.order import Order

NOW = datetime(2031, 3, 4, 7, tzinfo=UTC)


def bag(name: str, rate: float = 125.0, **fields: object) -> Order:
    """A litre at a rate."""
    return Order(name, name, None, volume_ml=1000.0, rate_ml_h=rate, **fields)  # type: ignore[arg-type]


def test_the_second_bag_starts_when_the_first_is_empty_and_both_are_given_once() -> None:
    first, second = in_turn((bag("a", bag_number=1), bag("b", bag_number=2, follows=True)), NOW)
    assert second.starts_at == NOW + timedelta(hours=8)
    assert first.stated_duration and second.stated_duration
    assert (first.litres_per_day or 0) + (second.litres_per_day or 0) == 2


def test_a_bag_follows_the_one_before_its_own_number() -> None:
    orders = (bag("b", bag_number=2, follows=True), bag("x", 50), bag("a", 250, bag_number=1))
    assert in_turn(orders, NOW)[0].starts_at == NOW + timedelta(hours=4)


def test_a_bag_that_follows_nothing_stays_as_it_is() -> None:
    only = bag("a", follows=True)
    assert in_turn((only,), NOW) == (only,)


def test_bags_whose_times_follow_on_are_given_once() -> None:
    first, second = bag("a", starts_at=NOW), bag("b", starts_at=NOW + timedelta(hours=8))
    assert all(order.stated_duration for order in in_turn((first, second), NOW))
    other_line = replace(second, lumen="c1")
    assert not any(order.stated_duration for order in in_turn((first, other_line), NOW))


def test_a_bag_that_is_empty_gives_nothing_more() -> None:
    first = bag("a", starts_at=NOW - timedelta(hours=9))
    second = bag("b", starts_at=NOW - timedelta(hours=1))
    ended, running = in_turn((first, second), NOW)
    assert ended.is_over and ended.litres_per_day == 0
    assert not running.stated_duration


def test_bags_side_by_side_are_left_alone() -> None:
    orders = (bag("a"), bag("b", 50))
    assert in_turn(orders, NOW) == orders


def test_nothing_follows_what_has_no_known_end() -> None:
    orders = (Order("a", "a", None, rate_ml_h=125), Order("b", "b", None, follows=True))
    assert in_turn(orders, NOW) == orders
