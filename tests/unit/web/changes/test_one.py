"""One change as a second person reads it."""

from dataclasses import replace
from datetime import datetime

import pytest
from sqlalchemy import Engine

from app.catalogue.changes.change import LimitValue, RuleSwitch, Signature
from app.review.knowledge import Past
from app.storage.database import reading, transaction
from app.storage.replays.results import ReplayResult
from app.storage.seed import seed
from app.web.changes.one import ChangePage, Looking, Sent, change_page
from app.web.rules import all_examples
from tests.changing import LIMIT, RULE, drafted, in_force, pharmacist, prescriber
from tests.conftest import LOADED
from tests.unit.review.changes.conftest import DAY, HOUR, NOW

ALL = frozenset({"approve", "send-back", "withdraw", "draft"})


@pytest.fixture
def loaded(engine: Engine) -> Engine:
    with transaction(engine) as session:
        seed(session, now=LOADED, demo=False)
    return engine


def replay(version: str, *, after: float = 40.0) -> ReplayResult:
    return ReplayResult(
        id=3, change_id=1, finished_at=NOW + HOUR, by="J. Birch", requests=3000, orders=4100,
        burden_before=39.5, burden_after=after, critical_before=3.0, critical_after=None,
        appear=12, vanish=0, level=1, newly_unread=0, cap=5.0, before=version, after="x",
    )  # fmt: skip


def page(  # noqa: PLR0913 - everything that a page is made from
    engine: Engine,
    number: int,
    *,
    now: datetime = NOW + DAY,
    by: Signature | None = None,
    run: float | None = None,
    may: frozenset[str] = ALL,
    sent: Sent | None = None,
) -> ChangePage:
    with reading(engine) as session:
        past = Past.of(session)
    filed = past.history.get(number)
    assert filed is not None
    known = past.at(now)
    ran = None if run is None else replay(known.version, after=run)
    looking = Looking(past, known, now, by or prescriber(now), ran, may, all_examples())
    return change_page(filed, looking, sent or Sent())


def test_a_draft_stands_beside_what_is_in_force_with_what_its_examples_would_say(
    loaded: Engine,
) -> None:
    number = drafted(loaded, LimitValue(RULE, LIMIT, 5.8), NOW)
    found = page(loaded, number)
    assert (found.beside, found.shipped) == ("In force now", "5.5 mmol/L")
    assert [one.after for one in found.differences] == ["5.8 mmol/L"]
    assert found.tried.count > len(found.tried.otherwise) > 0
    assert {one.after for one in found.tried.otherwise} <= {
        "nothing",
        "warning",
        "info",
        "critical",
    }
    assert found.needs_reason == "it was not replayed on past orders"
    assert [form.why_not for form in found.forms.values()][:2] == ["", ""]


def test_what_came_of_it_on_past_orders_is_told_in_numbers(loaded: Engine) -> None:
    number = drafted(loaded, LimitValue(RULE, LIMIT, 5.8), NOW)
    found = page(loaded, number, run=40.0)
    assert found.replay is not None
    assert found.replay.rows == "12 findings would appear, none vanish, 1 change level"
    assert found.replay.burden == ("39.5", "40")
    assert found.replay.critical == ("3", "not known")
    assert "3,000 requests with 4,100 orders, by J. Birch" in found.replay.ran
    over = page(loaded, number, run=44.6)
    assert over.replay is not None and over.replay.is_over
    assert "cap" in over.needs_reason
    in_force(loaded, RuleSwitch("k-rate", on=False), NOW + HOUR)
    stale = page(loaded, number, run=40.0)
    assert stale.replay is not None and not stale.replay.is_stale
    with reading(loaded) as session:
        past = Past.of(session)
    filed = past.history.get(number)
    assert filed is not None
    now = NOW + DAY
    old = Looking(past, past.at(now), now, prescriber(now), replay("other"), ALL)
    told = change_page(filed, old, Sent())
    assert told.replay is not None and told.replay.is_stale
    assert "changed since its replay" in told.needs_reason


def test_what_came_to_count_since_the_draft_and_who_drafted_the_same_is_told(
    loaded: Engine,
) -> None:
    number = drafted(loaded, LimitValue(RULE, LIMIT, 5.8), NOW)
    in_force(loaded, LimitValue(RULE, LIMIT, 6.2), NOW + HOUR)
    drafted(loaded, LimitValue(RULE, LIMIT, 4.9), NOW + 2 * HOUR)
    found = page(loaded, number)
    assert [one.after for one in found.since] == ["6.2 mmol/L"]
    assert [row.number for row in found.others] == [3]
    assert not page(loaded, 2).since and not page(loaded, 2).others


def test_nobody_signed_in_or_without_the_role_sees_no_form(loaded: Engine) -> None:
    number = drafted(loaded, RuleSwitch(RULE, on=False), NOW)
    assert page(loaded, number, may=frozenset()).forms == {}
    assert set(page(loaded, number, may=frozenset({"withdraw", "draft"})).forms) == {"withdraw"}


def test_the_drafter_reads_why_they_do_not_approve(loaded: Engine) -> None:
    number = drafted(loaded, RuleSwitch(RULE, on=False), NOW)
    found = page(loaded, number, by=pharmacist(NOW + DAY))
    assert "of their own" in found.forms["approve"].why_not
    assert found.forms["withdraw"].why_not == ""


def test_what_was_typed_stands_in_its_own_form_again(loaded: Engine) -> None:
    number = drafted(loaded, RuleSwitch(RULE, on=False), NOW)
    found = page(loaded, number, sent=Sent("send-back", "my words", "Needed: more.", "Above."))
    assert (found.forms["send-back"].typed, found.forms["send-back"].fault) == (
        "my words", "Needed: more.",
    )  # fmt: skip
    assert found.forms["approve"].typed == "" and found.fault == "Above."


def test_a_decided_change_tells_by_whom_on_what_replay_and_what_it_came_after(
    loaded: Engine,
) -> None:
    in_force(loaded, LimitValue(RULE, LIMIT, 6.2), NOW)
    number = in_force(loaded, LimitValue(RULE, LIMIT, 5.8), NOW + HOUR)
    first, second = page(loaded, 1), page(loaded, number)
    assert (first.state, second.state) == ("superseded", "in-force")
    assert second.beside == "Before it"
    assert [one.before for one in second.differences] == ["6.2 mmol/L"]
    (decided,) = second.decided
    assert "Approved by A. Rowan" in decided.what and decided.replay == "without a replay"
    assert second.tried.count == 0


def test_a_change_that_silences_critical_examples_needs_a_reason_whatever_the_burden(
    loaded: Engine,
) -> None:
    looser = page(loaded, drafted(loaded, LimitValue(RULE, LIMIT, 5.8), NOW), run=39.0)
    assert looser.tried.critical_lost > 0
    assert "critical findings would fall silent" in looser.needs_reason
    stricter = page(loaded, drafted(loaded, LimitValue(RULE, LIMIT, 5.2), NOW + HOUR), run=39.0)
    assert (stricter.tried.critical_lost, stricter.needs_reason) == (0, "")


def test_a_rule_to_be_switched_off_shows_what_its_examples_would_no_longer_say(
    loaded: Engine,
) -> None:
    number = drafted(loaded, RuleSwitch("k-concentrate", on=False), NOW)
    found = page(loaded, number, run=39.5)
    assert found.tried.count > 0
    assert {one.after for one in found.tried.otherwise} == {"nothing"}
    assert "critical findings would fall silent" in found.needs_reason


def test_a_month_that_a_change_does_not_touch_is_no_sign_that_it_is_harmless(
    loaded: Engine,
) -> None:
    number = drafted(loaded, RuleSwitch("k-concentrate", on=False), NOW)
    with reading(loaded) as session:
        past = Past.of(session)
    filed, now = past.history.get(number), NOW + DAY
    assert filed is not None
    known = past.at(now)
    ran = replace(replay(known.version), appear=0, level=0)
    told = change_page(filed, Looking(past, known, now, prescriber(now), ran, ALL), Sent())
    assert told.replay is not None
    assert "says nothing of orders that were not among them" in told.replay.rows


def test_criticals_that_past_orders_would_lose_are_counted_aloud(loaded: Engine) -> None:
    number = drafted(loaded, LimitValue(RULE, LIMIT, 5.2), NOW)
    with reading(loaded) as session:
        past = Past.of(session)
    filed, now = past.history.get(number), NOW + DAY
    assert filed is not None
    known = past.at(now)
    ran = replace(replay(known.version), critical_lost=3)
    told = change_page(filed, Looking(past, known, now, prescriber(now), ran, ALL), Sent())
    assert told.replay is not None and told.replay.lost == "3 critical findings"
    assert "critical findings would fall silent" in told.needs_reason


def test_a_limit_that_would_pass_another_is_asked_about(loaded: Engine) -> None:
    number = drafted(loaded, LimitValue("k-rate", "adult_most_mmol_h", 100.0), NOW)
    assert page(loaded, number).crossed == ("above “most in the extreme”, 40 mmol/h",)
    number = drafted(loaded, LimitValue("k-rate", "adult_usual_mmol_h", 8.0), NOW + HOUR)
    assert page(loaded, number).crossed == ()
