"""A signed local note: a named person says that a pair of which there is no data may run together
in this unit, under what conditions, and until when that is to be looked at again.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any, Final, Literal

from app.catalogue.entry import EntryError
from app.catalogue.pairs.substance import Substance

LONGEST_TEXT: Final = 300
LONGEST_NAME: Final = 60
# A note is looked at again within a year (common practice, no source).
LONGEST_DAYS: Final = 366
State = Literal["counts", "past its review date", "withdrawn"]


@dataclass(frozen=True, slots=True)
class Withdrawal:
    """Who took a note back, when, and why."""

    by: str
    role: str
    at: datetime
    reason: str


@dataclass(frozen=True, slots=True)
class LocalNote:
    """One note. a, b: a drug's key or a fluid's id. number: 0 until it is stored.

    text: what was found or agreed; conditions: under which they may run together; by, role: who
    signed; review_on: the last day on which it counts.
    """

    a: str
    b: str
    text: str
    conditions: str
    by: str
    role: str
    signed_at: datetime
    review_on: date
    number: int = 0
    withdrawn: Withdrawal | None = None

    def state(self, on: date) -> State:
        """Whether it counts on a day."""
        if self.withdrawn is not None:
            return "withdrawn"
        return "counts" if on <= self.review_on else "past its review date"

    def is_about(self, one: Substance, other: Substance) -> bool:
        """True when it names both, whichever comes first."""
        return (self.a in one.names and self.b in other.names) or (
            self.b in one.names and self.a in other.names
        )


@dataclass(frozen=True, slots=True)
class Notes:
    """Every note, newest first, on one day. on: that day."""

    notes: tuple[LocalNote, ...] = ()
    on: date = date.min

    def __iter__(self) -> Iterator[LocalNote]:
        return iter(self.notes)

    def about(self, one: Substance, other: Substance) -> tuple[LocalNote, ...]:
        """The notes about two things, newest first."""
        return tuple(note for note in self.notes if note.is_about(one, other))

    def counting(self, one: Substance, other: Substance) -> LocalNote | None:
        """The newest note about two things that counts on the day, or None."""
        alive = (n for n in self.about(one, other) if n.state(self.on) == "counts")
        return next(alive, None)

    def state(self, note: LocalNote) -> State:
        """Whether a note counts on the day."""
        return note.state(self.on)


NO_NOTES: Final = Notes()


def notes_on(notes: Iterable[LocalNote], day: date) -> Notes:
    """Notes as they stand on a day, the newest first."""
    newest = sorted(notes, key=lambda note: (note.signed_at, note.number), reverse=True)
    return Notes(tuple(newest), day)


def note_from(entry: Mapping[str, Any], pair: tuple[str, str], now: datetime) -> LocalNote:
    """A note as signed now: text, conditions, by, role, review_on. Raises EntryError naming the
    first wrong field.
    """
    return LocalNote(
        *pair,
        text=needed(entry, "text", LONGEST_TEXT, "what was found or agreed, in a few words"),
        conditions=needed(
            entry, "conditions", LONGEST_TEXT, "strengths, fluids and contact under which it holds"
        ),
        by=needed(entry, "by", LONGEST_NAME, "your name"),
        role=needed(entry, "role", LONGEST_NAME, "your role, such as pharmacist"),
        signed_at=now,
        review_on=_review_day(entry.get("review_on"), now.date()),
    )


def withdrawal_from(entry: Mapping[str, Any], now: datetime) -> Withdrawal:
    """A note taken back now: by, role, reason. Raises EntryError naming the first wrong field."""
    return Withdrawal(
        by=needed(entry, "by", LONGEST_NAME, "your name"),
        role=needed(entry, "role", LONGEST_NAME, "your role, such as pharmacist"),
        at=now,
        reason=needed(entry, "reason", LONGEST_TEXT, "why it no longer holds"),
    )


def needed(entry: Mapping[str, Any], field: str, longest: int, accepted: str) -> str:
    """A text that must be there, on one line. Raises EntryError when it is not, or is too long."""
    value = entry.get(field, "")
    text = " ".join(value.split()) if isinstance(value, str) else ""
    if not text:
        raise EntryError(field, "", accepted)
    if len(text) > longest or not text.isprintable():
        raise EntryError(field, value, f"a text of at most {longest} letters")
    return text


def _review_day(written: object, today: date) -> date:
    last = today + timedelta(days=LONGEST_DAYS)
    accepted = f"a day after {today:%d %B %Y} and not after {last:%d %B %Y}"
    try:
        day = date.fromisoformat(written) if isinstance(written, str) else None
    except ValueError:
        day = None
    if day is None or not today < day <= last:
        raise EntryError("review_on", written or "", accepted)
    return day
