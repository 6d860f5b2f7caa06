"""Signed local notes on pairs: rows are only ever added, and a note taken back stays."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from typing import Any, Final

from sqlalchemy import select
from sqlalchemy.orm import Session

from app.catalogue.pairs.local_note import LocalNote, Notes, Withdrawal, notes_on
from app.storage.tables import PairNoteRow, PairNoteWithdrawalRow

NOTES: Final = select(
    PairNoteRow.a, PairNoteRow.b, PairNoteRow.text, PairNoteRow.conditions, PairNoteRow.by,
    PairNoteRow.role, PairNoteRow.signed_at, PairNoteRow.review_on, PairNoteRow.id,
    PairNoteWithdrawalRow.by, PairNoteWithdrawalRow.role, PairNoteWithdrawalRow.at,
    PairNoteWithdrawalRow.reason,
).outerjoin(PairNoteWithdrawalRow, PairNoteWithdrawalRow.note_id == PairNoteRow.id)  # fmt: skip


def read_notes(session: Session, on: date) -> Notes:
    """Every note ever signed, as it stands on a day."""
    return notes_on(map(_note, session.execute(NOTES)), on)


def read_note(session: Session, number: int) -> LocalNote | None:
    """One note by its number, or None."""
    row = session.execute(NOTES.where(PairNoteRow.id == number)).first()
    return None if row is None else _note(row)


def sign_note(session: Session, note: LocalNote) -> int:
    """Add a note; its number."""
    row = PairNoteRow(
        a=note.a, b=note.b, text=note.text, conditions=note.conditions, by=note.by,
        role=note.role, signed_at=note.signed_at, review_on=note.review_on,
    )  # fmt: skip
    session.add(row)
    session.flush()
    return row.id


def withdraw_note(session: Session, number: int, taken: Withdrawal) -> bool:
    """Take a note back; False when there is none, or it was taken back before."""
    note = read_note(session, number)
    if note is None or note.withdrawn is not None:
        return False
    session.add(
        PairNoteWithdrawalRow(
            note_id=number, by=taken.by, role=taken.role, at=taken.at, reason=taken.reason
        )
    )
    session.flush()
    return True


def _note(row: Sequence[Any]) -> LocalNote:
    *told, by, role, at, reason = row
    withdrawn = None if by is None else Withdrawal(by, role, at, reason)
    return replace(LocalNote(*told), withdrawn=withdrawn)
