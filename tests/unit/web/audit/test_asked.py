"""What is asked of the trail stands in the address, and what cannot be used is said."""

from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import pytest

from app.storage.audit.reading import ANY
from app.web.audit.asked import LONGEST, asked

LISBON = ZoneInfo("Europe/Lisbon")


def test_nothing_asked_is_the_newest_of_all() -> None:
    found = asked({}, LISBON, None)
    assert (found.wanted, found.is_filtered, found.address()) == (ANY, False, "/audit")


def test_days_are_days_of_the_unit_and_the_last_is_within() -> None:
    wanted = asked({"since": "2031-07-04", "until": "2031-07-04"}, LISBON, None).wanted
    assert wanted.since == datetime(2031, 7, 3, 23, tzinfo=UTC)
    assert wanted.until == datetime(2031, 7, 4, 23, tzinfo=UTC)


@pytest.mark.parametrize("day", ["yesterday", "2031-13-01", "9999-12-31", "<b>"])
def test_a_day_that_is_none_is_said_and_not_used(day: str) -> None:
    found = asked({"until": day, "who": "osei"}, LISBON, None)
    assert found.wanted.until is None
    assert found.wanted.who == "osei"
    assert day in found.faults["until"]


def test_an_address_says_the_same_again() -> None:
    found = asked({"who": "L. N & Co", "act": "told stock", "under": "51"}, LISBON, None)
    assert found.under == 51
    assert found.address() == "/audit?who=L.+N+%26+Co&act=told+stock"
    assert found.address(7) == "/audit?who=L.+N+%26+Co&act=told+stock&under=7"


@pytest.mark.parametrize("text", ["", "-1", "1e3", "²", "9" * 40, "x"])
def test_a_row_number_that_is_none_asks_for_the_newest(text: str) -> None:
    assert asked({"under": text}, LISBON, None).under == 0


def test_what_is_typed_has_an_end_and_the_kinds_are_kept() -> None:
    found = asked({"who": "x" * 999}, LISBON, frozenset({"stock"}))
    assert len(found.wanted.who) == LONGEST
    assert found.wanted.kinds == {"stock"}
