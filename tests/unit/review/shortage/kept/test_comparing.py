"""A kept plan held against today."""

import copy
from typing import Any

import pytest

from app.review.shortage.kept.comparing import differences

ORDER = {
    "patient": "p", "order": "o1", "standing": "affected", "fluid": "s", "to": "r",
    "every_one_critical": False, "new": [["a-rule", "info"]], "gone": [], "not_assessed": [],
}  # fmt: skip
PLAN: dict[str, Any] = {
    "version": "v1",
    "orders": [ORDER],
    "lasting": [{"fluid": "s", "ml_day": 1000.0, "days": 9.0}],
    "turned": [{"fluid": "r", "ml_day": 1000.0, "days": None}],
}


@pytest.fixture
def today() -> dict[str, Any]:
    return copy.deepcopy(PLAN)


def told(today: dict[str, Any]) -> list[tuple[Any, ...]]:
    return [(one.kind, one.about, one.what, one.was, one.now) for one in differences(PLAN, today)]


def test_the_same_plan_differs_in_nothing(today: dict[str, Any]) -> None:
    assert told(today) == []


def test_an_order_that_is_gone_and_one_that_came(today: dict[str, Any]) -> None:
    today["orders"] = [{**ORDER, "order": "o2"}]
    assert told(today) == [
        ("order", ("p", "o1"), "standing", "affected", None),
        ("order", ("p", "o2"), "standing", None, "affected"),
    ]


@pytest.mark.parametrize(
    ("what", "now"),
    [("to", "x"), ("to", ""), ("standing", "over"), ("new", [["b-rule", "critical"]])],
)
def test_what_is_otherwise_with_an_order(today: dict[str, Any], what: str, now: object) -> None:
    today["orders"][0][what] = now
    assert told(today) == [("order", ("p", "o1"), what, ORDER[what], now)]


def test_use_and_days_are_told_past_a_twentieth_and_not_within(today: dict[str, Any]) -> None:
    today["lasting"][0] |= {"ml_day": 1040.0, "days": 8.6}
    assert told(today) == []
    today["lasting"][0] |= {"ml_day": 1200.0, "days": 7.0}
    assert told(today) == [
        ("use", ("s",), "ml_day", 1000.0, 1200.0),
        ("days", ("s",), "days", 9.0, 7.0),
    ]


def test_a_count_that_came_is_told_for_what_everybody_turns_to(today: dict[str, Any]) -> None:
    today["turned"][0]["days"] = 3.0
    assert told(today) == [("second", ("r",), "days", None, 3.0)]


def test_other_rules_or_fluids_are_told(today: dict[str, Any]) -> None:
    today["version"] = "v2"
    assert told(today) == [("knowledge", (), "version", "v1", "v2")]
