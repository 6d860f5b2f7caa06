"""The signed local notes that speak of what runs in one patient: in sentences, and as part of the
request, so that a finding made with them can be made again. Pure.
"""

from collections.abc import Iterator, Mapping
from typing import Any, Final

from app.catalogue.pairs.answer import PairBook, PartAnswer
from app.catalogue.pairs.local_note import LocalNote
from app.cautions.phrases import opening
from app.patient.case import Case
from app.review.pairs.things import things_of
from app.review.pairs.told import Told, all_told
from app.review.pairs.words import day_words, line_of, signed_words

FIELD: Final = "local_notes"


def with_notes(request: Mapping[str, Any], case: Case, book: PairBook) -> Mapping[str, Any]:
    """A request with the notes that count for two things of its case; as it is where none does."""
    notes = tuple(_counting(case, book))
    return {**request, FIELD: [_sent(note) for note in notes]} if notes else request


def _counting(case: Case, book: PairBook) -> Iterator[LocalNote]:
    told = all_told(book, things_of(case))
    notes = (part.note for each in told for part in each.answer.parts)
    yield from {note.number: note for note in notes if note is not None}.values()


def _sent(note: LocalNote) -> dict[str, str]:
    return {
        "a": note.a,
        "b": note.b,
        "text": note.text,
        "conditions": note.conditions,
        "by": note.by,
        "role": note.role,
        "signed_at": note.signed_at.isoformat(),
        "review_on": note.review_on.isoformat(),
    }


def notes_in(case: Case, book: PairBook) -> tuple[str, ...]:
    """What notes say of the pairs that run, those that no longer count too; each once."""
    told = all_told(book, things_of(case))
    return tuple(dict.fromkeys(line for each in told for line in _of_pair(each)))


def _of_pair(told: Told) -> Iterator[str]:
    names = " with ".join(meant.name for meant in told.meant)
    for part in told.answer.parts:
        yield from _of_part(opening(names), part)


def _of_part(names: str, part: PartAnswer) -> Iterator[str]:
    if part.note is not None:
        line = line_of(part).text
        yield f"{names}: {line[:1].lower()}{line[1:]}"
    elif part.notes:
        yield f"{names}: {_ended(part.notes[0])}"


def _ended(note: LocalNote) -> str:
    if note.withdrawn is not None:
        return f"the {signed_words(note)} was taken back."
    return f"the {signed_words(note)} is past its review date, {day_words(note.review_on)}."
