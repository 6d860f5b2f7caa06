"""What saves fluid, and of which orders it is to be asked."""

from collections.abc import Callable, Mapping
from typing import Any

import pytest

from app.catalogue.source import NO_SOURCE
from app.review.assess import Review
from app.review.shortage.saving import (
    MEASURES,
    NOT_TWO_SMALL,
    keeps_a_line_open,
    may_drink,
    review_is_due,
)
from tests.unit.review.shortage.conftest import order

Reviewed = Callable[..., Review]


@pytest.mark.parametrize(
    ("conditions", "drinks"),
    [
        (["eating and drinking"], True),
        (["drinking well", "pneumonia"], True),
        ([], False),
        (["nil by mouth"], False),
        (["eating and drinking", "nil by mouth"], False),
        (["eating and drinking", "septic shock"], False),
    ],
)
def test_by_mouth_is_asked_only_where_drinking_is_recorded_and_nothing_speaks_against_it(
    reviewed: Reviewed, conditions: list[str], drinks: bool
) -> None:
    assert may_drink(reviewed(order(), patient={"conditions": conditions}).case) is drinks


@pytest.mark.parametrize(
    ("one", "due"),
    [
        ({"review_at": "2031-03-04T06:00:00Z", "purpose": "maintenance"}, True),
        ({"review_at": "2031-03-04T12:00:00Z", "purpose": "maintenance"}, False),
        ({"purpose": "maintenance", "rate_ml_h": 75}, True),
        ({"purpose": "resuscitation", "volume_ml": 500, "rate_ml_h": 1000}, False),
    ],
)
def test_a_review_is_due_when_its_time_has_come_or_none_is_set_for_what_goes_on(
    reviewed: Reviewed, one: Mapping[str, Any], due: bool
) -> None:
    case = reviewed(order(**one)).case
    assert review_is_due(case.orders[0], case) is due


def test_a_slow_carrier_is_asked_about_and_slow_maintenance_is_not(reviewed: Reviewed) -> None:
    slow = reviewed(order(rate_ml_h=10, volume_ml=250, purpose="carrier")).case
    upkeep = reviewed(order(rate_ml_h=10, volume_ml=250, purpose="maintenance")).case
    fast = reviewed(order(rate_ml_h=100, purpose="carrier")).case
    cases = (slow, upkeep, fast)
    assert [keeps_a_line_open(c.orders[0], c) for c in cases] == [True, False, False]


def test_every_measure_says_where_it_is_from() -> None:
    every = (*MEASURES, NOT_TWO_SMALL)
    assert len({one.key for one in every}) == len(every)
    for one in every:
        assert one.words.endswith(".")
        assert one.source.work == NO_SOURCE or "2024" in one.source.work


def test_no_measure_but_the_one_against_it_speaks_of_two_small_bags() -> None:
    assert not [one for one in MEASURES if "500" in one.words]
    assert "not proposed" in NOT_TWO_SMALL.words
