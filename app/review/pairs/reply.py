"""The answer about two things as the outside interface gives it. Pure."""

from typing import Any

from app.catalogue.pairs.answer import PairBook, PartAnswer
from app.catalogue.pairs.fact import PairFact
from app.catalogue.pairs.facts import NEWBORN
from app.catalogue.pairs.local_note import LocalNote, Notes
from app.review.pairs.told import Told
from app.review.pairs.words import line_of


def reply_of(told: Told, book: PairBook) -> dict[str, Any]:
    """One pair: verdict, sentence, whether they are kept apart, and everything behind it.

    confirm_with_pharmacy: they may run together by a source from memory, or by none. newborn: what
    differs to 28 days of age, or null.
    """
    answer = told.answer
    return {
        "a": _thing(told, 0),
        "b": _thing(told, 1),
        "verdict": answer.verdict,
        "scope": answer.scope,
        "keep_apart": answer.is_apart,
        "confirm_with_pharmacy": answer.is_unseen,
        "text": line_of(answer.decisive).text,
        "why": answer.decisive.why,
        "ambiguous": told.ambiguous,
        "parts": [_part(part, book.notes) for part in answer.parts],
        "newborn": _newborn(told, book),
    }


def _thing(told: Told, place: int) -> dict[str, Any]:
    thing, meant = (told.one, told.other)[place], told.meant[place]
    return {
        "written": thing.written,
        "name": meant.name,
        "id": meant.substance.key,
        "may_mean": [each.substance.key for each in thing.meant],
        "ask": thing.ask or None,
    }


def _part(part: PartAnswer, notes: Notes) -> dict[str, Any]:
    return {
        "a": part.one.key,
        "b": part.other.key,
        "verdict": part.verdict,
        "text": line_of(part).text,
        "why": part.why,
        "facts": [_fact(fact, counts=fact is part.counts) for fact in part.facts],
        "notes": [_note(note, notes, counts=note is part.note) for note in part.notes],
    }


def _fact(fact: PairFact, *, counts: bool) -> dict[str, Any]:
    """Every field of a fact; what was not told is null."""
    source = fact.source
    return {
        "a": fact.a,
        "b": fact.b,
        "verdict": fact.verdict,
        "counts": counts,
        "contact": fact.contact or None,
        "strength": fact.strength or None,
        "vehicle": fact.vehicle or None,
        "hours": fact.hours,
        "condition": fact.condition or None,
        "mechanism": fact.mechanism or None,
        "how_seen": fact.how_seen or None,
        "population": fact.population,
        "scope": fact.scope,
        "source": {"work": source.work, "seen": source.seen, "note": source.note},
    }


def _note(note: LocalNote, notes: Notes, *, counts: bool) -> dict[str, Any]:
    taken = note.withdrawn
    return {
        "text": note.text,
        "conditions": note.conditions,
        "by": note.by,
        "role": note.role,
        "signed_at": note.signed_at.isoformat(),
        "review_on": note.review_on.isoformat(),
        "state": notes.state(note),
        "counts": counts,
        "withdrawn": None
        if taken is None
        else {
            "by": taken.by,
            "role": taken.role,
            "at": taken.at.isoformat(),
            "reason": taken.reason,
        },
    }


def _newborn(told: Told, book: PairBook) -> dict[str, Any] | None:
    one, other = (meant.substance for meant in told.meant)
    own = book.answer(one, other, newborn=True)
    counts = own.decisive.counts
    if counts is None or counts.population != NEWBORN:
        return None
    text = line_of(own.decisive).text
    return {"verdict": own.verdict, "scope": own.scope, "text": text}
