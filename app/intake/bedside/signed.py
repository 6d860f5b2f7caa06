"""Signed local notes on pairs that a request carries, so that its review comes out the same
wherever it is made again.
"""

from collections.abc import Iterable
from datetime import date, datetime
from typing import Final

from app.catalogue.pairs.local_note import LocalNote, Notes, notes_on
from app.intake.request import Reader

TEXTS: Final = ("a", "b", "text", "conditions", "by", "role")


def read_signed(readers: Iterable[Reader], now: datetime) -> Notes:
    """The notes of a request as they stand on its day; a field that is missing or wrong is told."""
    notes = (_note(reader, now) for reader in readers)
    return notes_on((note for note in notes if note is not None), now.date())


def _note(reader: Reader, now: datetime) -> LocalNote | None:
    texts = {name: reader.text(name) for name in TEXTS}
    signed_at, review_on = reader.time("signed_at", now), _day(reader)
    reader.ask_unknown()
    lacking = [name for name, text in texts.items() if text is None]
    for name in lacking:
        if reader.raw(name) in (None, ""):
            reader.refuse(name, None, "a text")
    if signed_at is None:
        reader.refuse("signed_at", None, "when it was signed")
    if lacking or signed_at is None or review_on is None:
        return None
    a, b, text, conditions, by, role = (told or "" for told in texts.values())
    return LocalNote(a, b, text, conditions, by, role, signed_at, review_on)


def _day(reader: Reader) -> date | None:
    written = reader.text("review_on") or ""
    try:
        return date.fromisoformat(written)
    except ValueError:
        reader.refuse("review_on", written, "a day such as 2031-09-01")
        return None
