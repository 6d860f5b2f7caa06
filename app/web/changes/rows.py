"""The page of all changes: what is to be decided, what waits, what counts, and what has been."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from typing import Final

from app.catalogue.changes.change import KINDS, Content
from app.catalogue.changes.differences import Difference
from app.catalogue.changes.history import STATES, Filed, History, State
from app.catalogue.changes.versions import Otherwise, said_otherwise
from app.review.changes.meanwhile import apart, content_at
from app.review.knowledge import Knowledge, Past
from app.web.changes.words import (
    KIND_WORDS,
    STATE_WORDS,
    counts_text,
    review_text,
    signed_text,
    title_of,
    verdict_text,
)

HEADINGS: Final[dict[State, str]] = {
    "draft": "To be decided", "waiting": "Approved, waits for its moment", "in force": "In force",
    "sent back": "Sent back", "superseded": "No longer in force", "withdrawn": "Withdrawn",
}  # fmt: skip
MOST_DIFFERENCES: Final = 3
EXPIRED: Final = "expired"


@dataclass(frozen=True, slots=True)
class ChangeRow:
    """One change as a row. what: where it differs from what counted, the first few fields."""

    number: int
    kind: str
    title: str
    what: tuple[Difference, ...]
    more: int
    reason: str
    signed: str
    decided: str
    counts: str
    review: str
    is_expired: bool


@dataclass(frozen=True, slots=True)
class Group:
    """Changes that stand alike."""

    key: str
    heading: str
    rows: tuple[ChangeRow, ...]


@dataclass(frozen=True, slots=True)
class ReleaseNote:
    """A fluid whose entry was approved here while the release says something else."""

    fluid_id: str
    number: int
    differences: tuple[Difference, ...]


@dataclass(frozen=True, slots=True)
class ChangesPage:
    """Every change, by how it stands; all, or those that were asked for."""

    state: str
    kind: str
    groups: tuple[Group, ...]
    states: tuple[tuple[str, str], ...]
    kinds: tuple[tuple[str, str], ...]
    count: int
    expired: int
    otherwise: tuple[ReleaseNote, ...]
    now: str


def changes_page(
    past: Past, knowledge: Knowledge, now: datetime, *, state: str = "", kind: str = ""
) -> ChangesPage:
    """The page at a moment. state, kind: what was asked for; what does not exist asks for all."""
    state = state if state in (*STATES, EXPIRED) else ""
    kind = kind if kind in KINDS else ""
    history = past.history
    asked = [f for f in history if not kind or f.change.content.kind == kind]
    expired = {f.change.number for f in history.expired(now.date(), now)}
    groups = tuple(
        Group(key.replace(" ", "-"), heading, tuple(_rows(found, past, knowledge, now)))
        for key, heading in HEADINGS.items()
        if state in ("", key) or (state == EXPIRED and key == "in force")
        if (found := _standing(asked, history, key, now, expired if state == EXPIRED else None))
    )
    return ChangesPage(
        state=state,
        kind=kind,
        groups=groups,
        states=(*STATE_WORDS.items(), (EXPIRED, "review overdue")),
        kinds=tuple(KIND_WORDS.items()),
        count=len(history.filed),
        expired=len(expired),
        otherwise=tuple(map(_note, said_otherwise(past.versions, history, now))),
        now=now.isoformat(),
    )


def _standing(
    filed: Iterable[Filed], history: History, state: State, now: datetime, only: set[int] | None
) -> list[Filed]:
    """The changes that stand so, the newest first."""
    found = [f for f in filed if history.state(f, now) == state]
    return [f for f in reversed(found) if only is None or f.change.number in only]


def _rows(
    filed: Iterable[Filed], past: Past, knowledge: Knowledge, now: datetime
) -> Iterable[ChangeRow]:
    return (change_row(one, past, knowledge, now) for one in filed)


def change_row(filed: Filed, past: Past, knowledge: Knowledge, now: datetime) -> ChangeRow:
    """One change as it stands at a moment."""
    change, state = filed.change, past.history.state(filed, now)
    what = apart(counted_before(filed, past, now), change.content)
    last = filed.decisions[-1] if filed.decisions else None
    return ChangeRow(
        number=change.number,
        kind=KIND_WORDS[change.content.kind],
        title=title_of(change.content, knowledge.catalogue),
        what=what[:MOST_DIFFERENCES],
        more=max(len(what) - MOST_DIFFERENCES, 0),
        reason=change.reason,
        signed=signed_text(change.drafted, now),
        decided=f"{verdict_text(last.verdict)} {signed_text(last.signed, now)}" if last else "",
        counts=counts_text(filed, state, now),
        review=review_text(filed, state, now),
        is_expired=state == "in force" and change.review_on < now.date(),
    )


def counted_before(filed: Filed, past: Past, now: datetime) -> Content:
    """What a change is laid beside: what counts now, or what counted just before it did."""
    began = filed.counts_from
    if began is None or began > now:
        last = filed.decisions[-1].signed.at if filed.decisions and began is None else now
        return content_at(past, filed.change.subject, last)
    without = History(tuple(f for f in past.history if f.change.number != filed.change.number))
    return content_at(Past(past.versions, without, past.words), filed.change.subject, began)


def _note(one: Otherwise) -> ReleaseNote:
    return ReleaseNote(one.fluid_id, one.filed.change.number, one.differences)
