from datetime import UTC, datetime

import pytest
from sqlalchemy import Engine
from sqlalchemy.exc import IntegrityError

from app.storage.changes.tables import ContentChangeRow, ContentDecisionRow
from app.storage.database import transaction

NOW = datetime(2026, 2, 1, tzinfo=UTC)


def change(**more: object) -> ContentChangeRow:
    return ContentChangeRow(
        subject="rule:k-hyper", content={"on": False}, reason="why", effective_from=NOW,
        review_on=NOW.date(), based_on="", drafted_by="J.", drafted_by_id="j",
        drafted_as_pharmacist=True, drafted_at=NOW, **more,
    )  # fmt: skip


def decision(number: int) -> ContentDecisionRow:
    return ContentDecisionRow(
        change_id=1, number=number, verdict="approved", reason="", replay="", by="A.", by_id="a",
        as_pharmacist=False, at=NOW,
    )  # fmt: skip


def test_a_draft_cannot_take_the_place_of_one_that_is_not_there(engine: Engine) -> None:
    with pytest.raises(IntegrityError), transaction(engine) as session:
        session.add(change(revises=9))


def test_a_decision_is_of_a_draft_that_is_there(engine: Engine) -> None:
    with pytest.raises(IntegrityError), transaction(engine) as session:
        session.add(decision(0))


def test_two_decisions_never_have_the_same_place(engine: Engine) -> None:
    with transaction(engine) as session:
        session.add(change())
        session.flush()
        session.add(decision(0))
        session.add(decision(1))
    with pytest.raises(IntegrityError), transaction(engine) as session:
        session.add(decision(1))
