"""Facts and signed notes about a pair, as the page shows them: every field, told or not."""

from dataclasses import dataclass
from datetime import date

from app.catalogue.catalogue import Catalogue
from app.catalogue.pairs.fact import PairFact
from app.catalogue.pairs.local_note import LocalNote
from app.cautions.phrases import opening
from app.review.pairs.words import (
    CONTACTS,
    POPULATIONS,
    day_words,
    fact_sentence,
    source_words,
    time_words,
)
from app.web.show import sentence


@dataclass(frozen=True, slots=True)
class FactView:
    """One fact: what it says, under which conditions, by whom. counts: it is the one that counts;
    rows: every field that was told, with its name; untold: the names of the others.
    """

    sentence: str
    source: str
    counts: bool
    rows: tuple[tuple[str, str], ...]
    untold: str


@dataclass(frozen=True, slots=True)
class NoteView:
    """One signed note. ended: who took it back, or that its day is past; empty while it counts."""

    number: int
    text: str
    conditions: str
    signed: str
    review: str
    counts: bool
    ended: str
    may_be_taken_back: bool


def fact_view(fact: PairFact, catalogue: Catalogue, *, counts: bool = False) -> FactView:
    """One fact for the page."""
    fields = (
        ("How they met", CONTACTS[fact.contact]),
        ("Strength", fact.strength),
        ("Made up in", fact.vehicle),
        ("For how long", time_words(fact.hours) if fact.hours else ""),
        ("Condition", fact.condition),
        ("How it was seen", fact.how_seen),
        ("For whom", POPULATIONS[fact.population]),
    )
    untold = [name.lower() for name, told in fields if not told]
    return FactView(
        sentence=fact_sentence(fact, catalogue),
        source=opening(source_words(fact)),
        counts=counts,
        rows=tuple((name, opening(told)) for name, told in fields if told),
        untold=", ".join(untold),
    )


def note_view(note: LocalNote, on: date) -> NoteView:
    """One note for the page, as it stands on a day."""
    state = note.state(on)
    return NoteView(
        number=note.number,
        text=sentence(note.text),
        conditions=sentence(note.conditions),
        signed=f"{note.by}, {note.role}, {day_words(note.signed_at)}",
        review=day_words(note.review_on),
        counts=state == "counts",
        ended=_ended(note, on),
        may_be_taken_back=note.withdrawn is None,
    )


def _ended(note: LocalNote, on: date) -> str:
    """Why a note no longer counts; empty while it does."""
    taken = note.withdrawn
    if taken is not None:
        when = day_words(taken.at)
        return f"Taken back by {taken.by}, {taken.role}, on {when}: {taken.reason}"
    if note.state(on) == "counts":
        return ""
    return f"Past its review date, {day_words(note.review_on)}: it no longer counts."
