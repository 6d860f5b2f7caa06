"""Write one act into the trail, in the transaction of what was done: both are kept, or neither."""

from dataclasses import dataclass, replace
from datetime import datetime
from typing import Final

from sqlalchemy import insert, select, update
from sqlalchemy.orm import Session

from app.storage.audit.chain import Head, Link, document_text, hash_of, seal_of, seal_stands
from app.storage.audit.tables import TrailHeadRow, TrailRow
from app.storage.database import TRAIL_KEY
from app.storage.tables import Document

HEAD: Final = 1
# Locked where a database has locks on rows; SQLite's one writer took its lock at the start.
LOCKED_HEAD: Final = (
    select(TrailHeadRow.count, TrailHeadRow.last, TrailHeadRow.sealed, TrailHeadRow.seal)
    .where(TrailHeadRow.id == HEAD)
    .with_for_update()
)


class NoTrail(Exception):
    """The row that says how long the trail is, is gone: what cannot be recorded is not done."""

    def __str__(self) -> str:
        return "The trail of acts has lost its head row: run `ringside verify-audit`."


@dataclass(frozen=True, slots=True)
class Done:
    """One act. subject: "kind:id", ids only and no word of a patient. at: the real clock."""

    at: datetime
    who: str
    account_id: str
    act: str
    subject: str
    before: Document | None = None
    after: Document | None = None


def record(  # noqa: PLR0913 - who, what, when, before and after are what an act is
    session: Session,
    *,
    at: datetime,
    who: str,
    account_id: str,
    act: str,
    subject: str,
    before: Document | None = None,
    after: Document | None = None,
) -> None:
    """Add one act: see Done. Give before and after as the fields that changed, or as the whole.

    Raises NoTrail.
    """
    add(session, Done(at, who, account_id, act, subject, before, after))


def add(session: Session, done: Done, *, seal_anew: bool = False) -> None:
    """Add one act. seal_anew: seal although the seal does not stand. Raises NoTrail."""
    key: bytes = session.connection().get_execution_options().get(TRAIL_KEY, b"")
    found = session.execute(LOCKED_HEAD).first()
    if found is None:
        raise NoTrail
    head = Head(*found)
    link = _link(done, head)
    row = {name: getattr(link, name) for name in Link.__dataclass_fields__}
    session.execute(insert(TrailRow).values(**row))
    moved = {"count": link.seq, "last": link.sha256}
    if key and (seal_anew or seal_stands(head, key)):
        moved |= {"sealed": link.seq, "seal": seal_of(link.seq, link.sha256, key)}
    session.execute(update(TrailHeadRow).where(TrailHeadRow.id == HEAD).values(**moved))


def _link(done: Done, head: Head) -> Link:
    before, after = document_text(done.before), document_text(done.after)
    link = Link(
        head.count + 1, done.at, done.who, done.account_id, done.act, done.subject,
        before, after, head.last,
    )  # fmt: skip
    return replace(link, sha256=hash_of(link))
