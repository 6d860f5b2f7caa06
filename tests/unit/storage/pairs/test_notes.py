"""Signed notes are added and taken back, and nothing is ever overwritten."""

from datetime import UTC, date, datetime

import pytest
from sqlalchemy import Engine, func, select
from sqlalchemy.exc import IntegrityError

from app.catalogue.pairs.local_note import LocalNote, Withdrawal
from app.storage.database import reading, transaction
from app.storage.pairs.notes import read_note, read_notes, sign_note, withdraw_note
from app.storage.tables import PairNoteRow, PairNoteWithdrawalRow

NOW = datetime(2031, 3, 4, 7, 5, tzinfo=UTC)
TODAY = NOW.date()
TAKEN = Withdrawal("J. Pires", "pharmacist", NOW, "new maker")


def note(text: str = "seen here") -> LocalNote:
    return LocalNote(
        "meropenem", "furosemide", text, "by Y-site", "R. Almeida", "pharmacist", NOW,
        date(2031, 9, 1),
    )  # fmt: skip


def test_a_note_comes_back_as_it_was_signed(engine: Engine) -> None:
    with transaction(engine) as session:
        number = sign_note(session, note())
    with reading(engine) as session:
        (kept,) = read_notes(session, TODAY)
    assert kept.number == number
    assert (kept.a, kept.b, kept.text, kept.conditions) == (
        "meropenem", "furosemide", "seen here", "by Y-site",
    )  # fmt: skip
    assert (kept.by, kept.role, kept.signed_at) == ("R. Almeida", "pharmacist", NOW)
    assert (kept.review_on, kept.withdrawn) == (date(2031, 9, 1), None)


def test_a_second_note_on_a_pair_overwrites_nothing(engine: Engine) -> None:
    with transaction(engine) as session:
        sign_note(session, note("first"))
        sign_note(session, note("second"))
    with reading(engine) as session:
        assert [one.text for one in read_notes(session, TODAY)] == ["second", "first"]


def test_a_note_taken_back_stays_with_who_took_it_back(engine: Engine) -> None:
    with transaction(engine) as session:
        number = sign_note(session, note())
        assert withdraw_note(session, number, TAKEN)
    with reading(engine) as session:
        kept = read_note(session, number)
        assert kept is not None
        assert kept.withdrawn == TAKEN
        assert kept.state(TODAY) == "withdrawn"
        assert session.scalar(select(func.count()).select_from(PairNoteRow)) == 1


def test_a_note_is_taken_back_once_and_only_when_there_is_one(engine: Engine) -> None:
    with transaction(engine) as session:
        number = sign_note(session, note())
        assert withdraw_note(session, number, TAKEN)
        assert not withdraw_note(session, number, Withdrawal("A", "B", NOW, "again"))
        assert not withdraw_note(session, number + 1, TAKEN)
        assert read_note(session, number + 1) is None
    with reading(engine) as session:
        assert session.scalars(select(PairNoteWithdrawalRow.reason)).all() == ["new maker"]


def test_the_database_itself_refuses_a_second_withdrawal(engine: Engine) -> None:
    with transaction(engine) as session:
        number = sign_note(session, note())
    row = {"note_id": number, "by": "a", "role": "b", "at": NOW, "reason": "c"}
    with pytest.raises(IntegrityError), transaction(engine) as session:
        session.add_all([PairNoteWithdrawalRow(**row), PairNoteWithdrawalRow(**row)])
