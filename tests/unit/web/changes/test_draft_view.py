"""The form that drafts a change: empty, filled anew, or refused with all that was typed."""

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from sqlalchemy import Engine

from app.catalogue.changes.change import LimitValue, RuleSwitch
from app.catalogue.changes.history import Filed
from app.catalogue.entry import EntryError
from app.cautions.registry import RULE_BY_ID
from app.review.changes.meanwhile import meanwhile
from app.review.knowledge import Past
from app.storage.database import reading
from app.web.changes.draft_view import Subject, blank, draft_page, from_sent_back
from tests.changing import LIMIT, RULE, change, drafted, in_force
from tests.unit.review.changes.conftest import HOUR, NOW

RULE_ITSELF = RULE_BY_ID[RULE]
LIMIT_ITSELF = next(limit for limit in RULE_ITSELF.limits if limit.name == LIMIT)
ABOUT_LIMIT = Subject(RULE_ITSELF, LIMIT_ITSELF)
LATER = NOW + HOUR


def past(engine: Engine) -> Past:
    with reading(engine) as session:
        return Past.of(session)


def test_an_empty_form_says_what_is_in_force_and_proposes_a_review_in_a_year(
    engine: Engine,
) -> None:
    page = draft_page(ABOUT_LIMIT, past(engine), LATER)
    assert page.told == "In force here: 5.5 mmol/L, as shipped."
    assert (page.accepted, page.unit, page.shipped) == ("from 0.55 to 55", "mmol/L", "5.5 mmol/L")
    assert page.typed["review_on"] == "2027-02-01" and page.typed["value"] == ""
    assert page.based_on == LATER.isoformat() and not page.is_own


@pytest.mark.parametrize(("turn", "words"), [("on", "on again"), ("off", "off here")])
def test_a_rules_switch_has_its_own_heading(engine: Engine, turn: str, words: str) -> None:
    page = draft_page(Subject(RULE_ITSELF, turn=turn), past(engine), LATER)
    assert words in page.heading and page.told == "The rule runs here."


def test_a_limit_of_ones_own_may_go_back_to_the_releases(engine: Engine) -> None:
    in_force(engine, LimitValue(RULE, LIMIT, 6.2), NOW)
    page = draft_page(ABOUT_LIMIT, past(engine), LATER)
    assert page.is_own and page.told == "In force here: 6.2 mmol/L."


def test_what_others_drafted_is_told_at_once(engine: Engine) -> None:
    drafted(engine, LimitValue(RULE, LIMIT, 6.2), NOW)
    page = draft_page(ABOUT_LIMIT, past(engine), LATER)
    assert [one.number for one in page.drafts] == [1] and not page.is_late
    assert page.drafts[0].differences[0].after == "6.2 mmol/L"


def test_a_refused_form_keeps_all_that_was_typed_and_when_it_was_begun(engine: Engine) -> None:
    typed = {**blank(NOW), "value": "x", "reason": "why", "based_on": NOW.isoformat()}
    fault = EntryError("value", "x", "a number")
    page = draft_page(ABOUT_LIMIT, past(engine), LATER, typed, fault)
    assert page.fault == ("value", "“x” is not accepted. Accepted: a number.")
    assert page.typed["reason"] == "why" and page.based_on == NOW.isoformat()
    empty = draft_page(ABOUT_LIMIT, past(engine), LATER, typed, EntryError("reason", "", "words"))
    assert empty.fault == ("reason", "Nothing is written. Accepted: words.")


def test_a_form_that_came_late_begins_anew_and_tells_what_changed(engine: Engine) -> None:
    in_force(engine, LimitValue(RULE, LIMIT, 6.2), NOW)
    here = past(engine)
    late = meanwhile(here, ABOUT_LIMIT.content.subject, NOW - HOUR, LATER)
    typed = {**blank(NOW), "value": "5.9", "based_on": (NOW - HOUR).isoformat()}
    page = draft_page(ABOUT_LIMIT, here, LATER, typed, late)
    assert page.is_late and page.typed["value"] == "5.9"
    assert [one.after for one in page.moved] == ["6.2 mmol/L"]
    assert page.based_on == LATER.isoformat()


def test_a_draft_that_was_sent_back_fills_the_form_in_the_units_time() -> None:
    berlin = NOW.astimezone(ZoneInfo("Europe/Berlin"))
    ahead = datetime(2026, 2, 3, 6, 0, tzinfo=NOW.tzinfo)
    filed = Filed(change(LimitValue(RULE, LIMIT, 6.25), NOW, number=4, counts=ahead))
    typed = from_sent_back(filed, berlin)
    assert (typed["value"], typed["revises"]) == ("6.25", "4")
    assert typed["effective_from"] == "2026-02-03T07:00"
    passed = from_sent_back(filed, berlin + timedelta(days=9))
    assert passed["effective_from"] == ""
    back = from_sent_back(Filed(change(LimitValue(RULE, LIMIT, None), NOW)), berlin)
    assert (back["value"], back["shipped"]) == ("", "1")
    off = from_sent_back(Filed(change(RuleSwitch(RULE, on=False), NOW)), berlin)
    assert off["shipped"] == "" and off["reason"] == "agreed with the kidney unit"
