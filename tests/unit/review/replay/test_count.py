"""Rows counted by where and what."""

import json

from app.review.knowledge import Knowledge
from app.review.replay.answer import UNREAD
from app.review.replay.count import Count, count_of, per_100, summed
from app.review.replay.twice import answer_with
from tests.unit.review.replay.conftest import water

DAY = ("2031-03-04", "adult ward", "day")
NIGHT = ("2031-03-04", "adult ward", "night")


def count(orders: int, **found: int) -> Count:
    cells = {(*DAY, "rule", level): n for level, n in found.items()}
    return Count(requests=1, orders={DAY: orders}, found=cells)


def test_burden_is_loud_rows_per_hundred_orders() -> None:
    counted = count(8, critical=1, warning=2, info=5)
    assert counted.burden() == 37.5
    assert counted.burden(("critical",)) == 12.5
    assert counted.rows(("info",)) == 5


def test_without_orders_there_is_no_burden_rather_than_none() -> None:
    assert Count().burden() is None
    assert per_100(0, 0) is None
    assert per_100(0, 4) == 0


def test_one_request_is_counted_where_it_belongs(known: Knowledge) -> None:
    counted = count_of(water(110), answer_with(water(110), known), NIGHT)
    assert counted.orders == {NIGHT: 1}
    assert counted.found[(*NIGHT, "ord-water-total", "warning")] == 1
    assert counted.requests == 1
    assert counted.unread == 0


def test_an_unread_request_counts_as_unread_with_its_orders() -> None:
    counted = count_of(water(110), UNREAD, DAY)
    assert (counted.unread, counted.all_orders, counted.rows()) == (1, 1, 0)


def test_counts_of_parts_add_up() -> None:
    whole = count(3, warning=1) + count(5, warning=2, critical=1)
    assert whole.all_orders == 8
    assert whole.found == {(*DAY, "rule", "warning"): 3, (*DAY, "rule", "critical"): 1}
    assert whole.requests == 2
    assert summed([]) == Count()


def test_a_count_survives_being_stored() -> None:
    counted = count(8, critical=1, warning=2)
    assert Count.from_document(json.loads(json.dumps(counted.as_document()))) == counted
