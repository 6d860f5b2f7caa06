"""Reason, moment and review day: refused by field, value and what is accepted."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from app.catalogue.changes.terms import terms_from
from app.catalogue.entry import EntryError

NOW = datetime(2026, 3, 28, 12, 0, 30, tzinfo=ZoneInfo("Europe/Berlin"))
GOOD = {"reason": "local policy", "effective_from": "", "review_on": "2027-03-01"}


def refused(**entry: object) -> EntryError:
    with pytest.raises(EntryError) as told:
        terms_from({**GOOD, **entry}, NOW)
    return told.value


def test_no_moment_is_as_soon_as_it_is_approved() -> None:
    assert terms_from(GOOD, NOW).effective_from == NOW


def test_a_moment_without_a_zone_is_the_units_own_also_across_a_change_of_clocks() -> None:
    told = terms_from({**GOOD, "effective_from": "2026-03-30T07:00"}, NOW)
    assert told.effective_from == datetime(2026, 3, 30, 5, 0, tzinfo=UTC)


def test_the_minute_that_was_typed_is_not_in_the_past() -> None:
    assert terms_from({**GOOD, "effective_from": "2026-03-28T12:00"}, NOW).effective_from == NOW


@pytest.mark.parametrize(
    "written", ["2026-03-28T11:00", "2026-03-27", "2025-01-01T00:00Z", "2027-06-01T00:00", "soon"]
)
def test_a_back_dated_or_far_off_moment_is_refused(written: str) -> None:
    error = refused(effective_from=written)
    assert (error.field, error.value) == ("effective_from", written)
    assert "not before 28 Mar 2026 12:00" in error.accepted


@pytest.mark.parametrize("written", ["", "2026-03-28", "2026-01-01", "2031-01-01", "in spring"])
def test_a_review_day_is_needed_and_lies_after_the_change_begins(written: str) -> None:
    error = refused(review_on=written)
    assert (error.field, error.value) == ("review_on", written)
    assert "after 28 Mar 2026" in error.accepted


def test_a_review_day_before_the_change_begins_is_refused() -> None:
    error = refused(effective_from="2026-12-01T00:00", review_on="2026-11-30")
    assert error.field == "review_on"
    assert "after 1 Dec 2026" in error.accepted


@pytest.mark.parametrize("written", ["", "   ", None, "x" * 601, "a\x00b"])
def test_a_reason_is_needed(written: object) -> None:
    assert refused(reason=written).field == "reason"


def test_days_and_moments_may_come_as_what_they_are() -> None:
    moment, day = NOW + timedelta(days=1), NOW.date() + timedelta(days=30)
    told = terms_from({**GOOD, "effective_from": moment, "review_on": day}, NOW)
    assert (told.effective_from, told.review_on) == (moment, day)
