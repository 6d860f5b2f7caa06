"""A replay from two states of knowledge to a tally."""

from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import pytest

from app.review.knowledge import Knowledge
from app.review.replay.answer import Past
from app.review.replay.compare import DAY_SHIFT, NIGHT_SHIFT, Terms, compare, shift_at, where_of
from tests.unit.review.replay.conftest import WithLimit, water


def test_a_lower_limit_makes_a_row_loud(known: Knowledge, with_limit: WithLimit) -> None:
    stricter = with_limit("ord-water-total", "excess_ml_kg_day", 31)
    tally = compare(known, stricter, [water(94, 1), water(60, 2)])  # 32 and 21 mL/kg a day
    assert tally.changes == {("ord-water-total", "adult ward", "info", "warning"): 1}
    assert tally.before.burden() == 0
    assert tally.after.burden() == 50
    assert [row.past_id for row in tally.sample] == [1]


def test_a_rule_switched_off_takes_its_rows_away(known: Knowledge, without_rule: Knowledge) -> None:
    tally = compare(known, without_rule, [water(110)])
    assert tally.changes == {("ord-water-total", "adult ward", "warning", ""): 1}


def test_nothing_changed_means_nothing_differs(known: Knowledge, month: tuple[Past, ...]) -> None:
    tally = compare(known, known, month)
    assert tally.is_nothing
    assert tally.before == tally.after
    assert tally.before.all_orders == sum(past.orders for past in month)


@pytest.mark.parametrize(
    ("hour", "stretch"),
    [(6, NIGHT_SHIFT), (7, DAY_SHIFT), (18, DAY_SHIFT), (19, NIGHT_SHIFT), (0, NIGHT_SHIFT)],
)
def test_a_day_has_two_stretches(hour: int, stretch: str) -> None:
    assert shift_at(datetime(2031, 3, 4, hour, 59, tzinfo=UTC)) == stretch


def test_the_hour_is_that_of_the_units_own_clock() -> None:
    at = datetime(2031, 7, 4, 22, 30, tzinfo=UTC)
    past = Past(1, at, {}, "ICU")
    here = where_of(past, ZoneInfo("Asia/Tokyo"), by_day=True)
    assert here == ("2031-07-05", "ICU", DAY_SHIFT)
    assert where_of(past, ZoneInfo("UTC"), by_day=False) == ("", "ICU", NIGHT_SHIFT)


def test_days_are_told_apart_only_when_asked(known: Knowledge) -> None:
    counted = compare(known, known, [water(80)], Terms(by_day=True)).before
    assert {where[0] for where in counted.orders} == {"2031-03-04"}
