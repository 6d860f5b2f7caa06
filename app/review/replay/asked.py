"""The two states of knowledge a run compares, and the terms it counts by."""

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy.orm import Session

from app.catalogue.changes.change import Change
from app.review.changes.applied import knowledge_with
from app.review.knowledge import Knowledge
from app.review.receipts.versions import versions_of
from app.review.replay.compare import UTC_NAME, Terms
from app.storage.changes.records import read_history
from app.storage.patients import read_unit


@dataclass(frozen=True, slots=True)
class Two:
    """What is in force, and the same with a change; of a count both are one."""

    before: Knowledge
    after: Knowledge

    @property
    def versions(self) -> dict[str, Any]:
        """By which it can be told later what was compared."""
        return {"before": _versions(self.before), "after": _versions(self.after)}


def change_of(session: Session, change_id: int) -> Change | None:
    """A change by its number, or None."""
    filed = read_history(session).get(change_id)
    return None if filed is None else filed.change


def with_change(session: Session, change: Change, now: datetime) -> Two:
    """What is in force now, without and with a change. Raises EntryError for a faulty entry."""
    before = Knowledge.at(session, now)
    return Two(before, knowledge_with(before, change))


def in_force(session: Session, now: datetime) -> Two:
    """What is in force now, on both sides: for a count of what is said."""
    knowledge = Knowledge.at(session, now)
    return Two(knowledge, knowledge)


def terms_of_replay(session: Session, seed: str) -> Terms:
    """A replay tells no days apart, and keeps the rows that change."""
    return Terms(_zone(session), seed=seed)


def terms_of_count(session: Session, seed: str) -> Terms:
    """A count tells days apart, and keeps loud rows for people to look at."""
    return Terms(_zone(session), by_day=True, seed=seed, every_loud_row=True)


def _zone(session: Session) -> str:
    unit = read_unit(session)
    return UTC_NAME if unit is None else unit.zone


def _versions(knowledge: Knowledge) -> dict[str, str]:
    return {"knowledge": knowledge.version, **versions_of(knowledge)}
