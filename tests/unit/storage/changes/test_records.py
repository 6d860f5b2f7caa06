"""Drafts and decisions are only ever added; of two decisions at once one is kept."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest
from sqlalchemy import Engine, text
from sqlalchemy.exc import DatabaseError
from sqlalchemy.orm import Session

from app.catalogue.changes.change import FluidEntry, LimitValue, RuleSwitch
from app.catalogue.changes.history import History
from app.storage.changes.records import (
    DecidedMeanwhile,
    add_change,
    add_decision,
    read_history,
    read_stamp,
)
from app.storage.changes.versions import add_version
from app.storage.database import reading, transaction
from tests.changing import change, decided, prescriber

NOW = datetime(2026, 2, 1, 12, 0, tzinfo=UTC)
CONTENTS = (
    FluidEntry("dextrose-5", {"id": "dextrose-5", "ph": {"low": 3.5}}),
    FluidEntry("dextrose-5", None),
    LimitValue("k-hyper", "potassium_high_mmol_l", 5.2),
    LimitValue("k-hyper", "potassium_high_mmol_l", None),
    RuleSwitch("k-hyper", on=False),
)


def test_changes_and_decisions_come_back_whole(engine: Engine) -> None:
    expected = [change(one, NOW, number=n) for n, one in enumerate(CONTENTS, 1)]
    approval = decided(2, "approved", prescriber(NOW + timedelta(hours=1)))
    with transaction(engine) as session:
        assert [add_change(session, one) for one in expected] == [1, 2, 3, 4, 5]
        add_decision(session, approval, before=0)
    with reading(engine) as session:
        filed = read_history(session).filed
    assert [one.change for one in filed] == expected
    assert filed[1].decisions == (approval,)


def test_a_draft_says_which_it_takes_the_place_of(engine: Engine) -> None:
    first = change(CONTENTS[2], NOW)
    anew = replace(change(CONTENTS[3], NOW, number=2), revises=1)
    with transaction(engine) as session:
        add_change(session, first)
        add_change(session, anew)
    with reading(engine) as session:
        assert [one.change.revises for one in read_history(session)] == [0, 1]


def test_who_decides_second_on_what_they_saw_before_is_told_and_the_rest_is_kept(
    engine: Engine,
) -> None:
    with transaction(engine) as session:
        add_change(session, change(CONTENTS[4], NOW))
        add_decision(session, decided(1, "approved", prescriber(NOW)), before=0)
    with transaction(engine) as session:
        with pytest.raises(DecidedMeanwhile, match="at the same moment"):
            add_decision(session, decided(1, "sent back", prescriber(NOW)), before=0)
        add_change(session, change(CONTENTS[4], NOW))
    with reading(engine) as session:
        history = read_history(session)
    assert [d.verdict for d in history.filed[0].decisions] == ["approved"]
    assert len(history.filed) == 2


def test_two_sessions_that_both_saw_a_draft_cannot_both_decide_it(engine: Engine) -> None:
    with transaction(engine) as session:
        add_change(session, change(CONTENTS[4], NOW))
    with reading(engine) as one, reading(engine) as other:
        seen = [len(read_history(session).filed[0].decisions) for session in (one, other)]
    with transaction(engine) as session:
        add_decision(session, decided(1, "approved", prescriber(NOW, "A.")), before=seen[0])
    with transaction(engine) as session, pytest.raises(DecidedMeanwhile):
        add_decision(session, decided(1, "approved", prescriber(NOW, "B.")), before=seen[1])
    with reading(engine) as session:
        assert [d.signed.name for d in read_history(session).filed[0].decisions] == ["A."]


@pytest.mark.parametrize("table", ["content_change", "content_decision", "fluid_version"])
@pytest.mark.parametrize("statement", ["DELETE FROM {}", "UPDATE {} SET id = id"])
def test_the_database_itself_refuses_to_rewrite_what_was_said(
    engine: Engine, table: str, statement: str
) -> None:
    with transaction(engine) as session:
        _one_of_each(session)
    with pytest.raises(DatabaseError, match="only ever added to"), transaction(engine) as session:
        session.execute(text(statement.format(table)))


def _one_of_each(session: Session) -> None:
    add_change(session, change(CONTENTS[4], NOW))
    add_decision(session, decided(1, "approved", prescriber(NOW)), before=0)
    add_version(session, "a", {"id": "a"}, at=NOW, release="1")


def test_the_stamp_moves_with_a_decision_or_a_load_and_not_with_a_draft(engine: Engine) -> None:
    stamps = []
    steps = (
        lambda s: add_change(s, change(CONTENTS[4], NOW)),
        lambda s: add_decision(s, decided(1, "approved", prescriber(NOW)), before=0),
        lambda s: add_version(s, "a", {"id": "a"}, at=NOW, release="1"),
    )
    for step in steps:
        with transaction(engine) as session:
            step(session)
            stamps.append(read_stamp(session))
    assert stamps == [(0, 0), (0, 1), (1, 1)]


def test_an_untouched_hospital_has_no_changes(engine: Engine) -> None:
    with reading(engine) as session:
        assert read_history(session) == History()
