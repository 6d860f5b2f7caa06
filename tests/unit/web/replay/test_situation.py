"""A past order as people read it."""

import pytest

from app.review.knowledge import Knowledge
from app.web.replay.situation import situation_of
from tests.unit.review.replay.conftest import known, water

__all__ = ["known"]


def test_it_says_who_by_age_and_weight_alone_and_what_was_ordered(known: Knowledge) -> None:
    one = situation_of(water(80), known)
    assert one.who == "50 y, 70 kg, adult ward"
    assert one.when.startswith("Tue 4 Mar 2031")
    assert [order.id for order in one.orders] == ["o1"]
    assert "80 mL/h" in one.orders[0].words
    assert {row.name for row in one.results} >= {"Sodium", "Potassium"}
    assert one.fault == ""


@pytest.mark.parametrize("weight", ["seventy-ish", [1]])
def test_what_cannot_be_read_says_so(known: Knowledge, weight: object) -> None:
    assert situation_of(water(80, patient={"weight_kg": weight}), known).fault
