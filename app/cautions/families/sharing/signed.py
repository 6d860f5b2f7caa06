"""Two infusions on one lumen that a named person has signed for on this unit."""

from app.catalogue.pairs.answer import PairBook
from app.catalogue.pairs.local_note import LocalNote
from app.cautions.phrases import opening, short
from app.cautions.rule import SUMMARY_AT_MOST, Finding
from app.cautions.shared.substances import Infusion, name_of, order_ids_of, substance_of
from app.patient.case import Case


def note_of(case: Case, one: Infusion, other: Infusion) -> LocalNote | None:
    """The note by which two infusions may run together here; None where none counts, or more is
    known to keep them apart.
    """
    if not case.notes.notes:
        return None
    answer = PairBook(case.pairs, case.notes).answer(substance_of(one), substance_of(other))
    if answer.is_apart:
        return None
    return next((part.note for part in answer.parts if part.note is not None), None)


def signed_finding(one: Infusion, other: Infusion, note: LocalNote) -> Finding:
    """The note instead of what else would be said: who, when, and under which conditions."""
    names = f"{opening(short(name_of(one)))} with {short(name_of(other))} on one lumen"
    who = f"{note.by}, {note.role}, on {_day_words(note)}"
    summary = f"{names}: a local note lets them, signed by {who}."
    if len(summary) > SUMMARY_AT_MOST:
        summary = f"{names}: a signed local note lets them."
    return Finding(
        "info",
        summary,
        f"Signed by {who}: {note.text.removesuffix('.')}. Conditions: "
        f"{note.conditions.removesuffix('.')}. To be looked at again by "
        f"{note.review_on.day} {note.review_on:%B %Y}.",
        figures={"verdict": "local note", "signed_by": note.by},
        order_ids=order_ids_of(one, other),
        do=f"See that the note's conditions hold: {note.conditions.removesuffix('.')}.",
    )


def _day_words(note: LocalNote) -> str:
    return f"{note.signed_at.day} {note.signed_at:%B %Y}"
