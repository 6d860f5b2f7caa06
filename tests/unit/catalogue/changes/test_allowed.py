"""Who may decide: never the drafter, one of the two a pharmacist, and only once."""

from datetime import UTC, datetime, timedelta

import pytest

from app.catalogue.changes.allowed import (
    NotAllowed,
    is_open,
    refuse,
    why_not_approved,
    why_not_sent_back,
    why_not_withdrawn,
)
from app.catalogue.changes.change import Change, RuleSwitch, Signature, Verdict
from app.catalogue.changes.history import Filed, History
from tests.changing import approved, change, decided, pharmacist, prescriber

NOW = datetime(2026, 2, 1, 12, 0, tzinfo=UTC)
LATER = NOW + timedelta(hours=1)
OFF = RuleSwitch("k-hyper", on=False)
DRAFT = Filed(change(OFF, NOW))


def alone(filed: Filed) -> History:
    return History((filed,))


def test_another_person_may_approve_or_send_back_and_the_drafter_withdraws() -> None:
    assert why_not_approved(DRAFT, prescriber(LATER), alone(DRAFT)) == ""
    assert why_not_sent_back(DRAFT, prescriber(LATER), alone(DRAFT)) == ""
    assert why_not_withdrawn(DRAFT, pharmacist(LATER), alone(DRAFT)) == ""


def test_nobody_approves_or_sends_back_a_draft_of_their_own() -> None:
    again = pharmacist(LATER)
    assert "of their own" in why_not_approved(DRAFT, again, alone(DRAFT))
    assert "withdrawn, not sent back" in why_not_sent_back(DRAFT, again, alone(DRAFT))


def test_another_account_of_the_same_name_is_another_person() -> None:
    namesake = Signature("account-other", pharmacist(NOW).name, False, LATER)
    assert why_not_approved(DRAFT, namesake, alone(DRAFT)) == ""


def test_somebody_else_cannot_withdraw_a_draft() -> None:
    assert "Only J. Birch" in why_not_withdrawn(DRAFT, prescriber(LATER), alone(DRAFT))


def test_one_of_the_two_is_a_pharmacist() -> None:
    draft = Change(OFF, "why", NOW, LATER.date(), prescriber(NOW, "B. Elm"), number=1)
    by_prescriber = Filed(draft)
    history = alone(by_prescriber)
    assert "must be a pharmacist" in why_not_approved(by_prescriber, prescriber(LATER), history)
    assert why_not_approved(by_prescriber, pharmacist(LATER), history) == ""


@pytest.mark.parametrize("verdict", ["approved", "sent back", "withdrawn"])
def test_what_is_settled_stays_settled(verdict: Verdict) -> None:
    filed = Filed(DRAFT.change, (decided(1, verdict, prescriber(NOW)),))
    for why_not in (why_not_approved, why_not_sent_back, why_not_withdrawn):
        assert f"It was {verdict} by A. Rowan" in why_not(filed, pharmacist(LATER), alone(filed))
    assert not is_open(filed, alone(filed), LATER)


def test_an_approved_change_is_withdrawn_by_anyone_who_may_until_its_moment() -> None:
    waiting = approved(OFF, NOW, counts=LATER + timedelta(hours=1))
    assert why_not_withdrawn(waiting, prescriber(LATER), alone(waiting)) == ""
    assert is_open(waiting, alone(waiting), LATER)
    at_last = prescriber(LATER + timedelta(hours=1))
    assert "by a new draft" in why_not_withdrawn(waiting, at_last, alone(waiting))


def test_a_reason_is_raised_and_none_is_not() -> None:
    refuse("")
    with pytest.raises(NotAllowed, match="because"):
        refuse("because")
