"""Write one act into the trail, in the transaction of what was done: both are kept, or neither."""

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
    """Add one act. subject: "kind:id", ids only and no word of a patient. at: the real clock.

    Give before and after as the fields that were changed, or the whole document. Raises NoTrail.
    """
    connection = session.connection()
    found = session.execute(LOCKED_HEAD).first()
    if found is None:
        raise NoTrail
    head = Head(*found)
    link = Link(
        head.count + 1, at, who, account_id, act, subject,
        document_text(before), document_text(after), head.last,
    )  # fmt: skip
    sha256 = hash_of(link)
    key: bytes = connection.get_execution_options().get(TRAIL_KEY, b"")
    session.execute(
        insert(TrailRow).values(
            seq=link.seq, at=at, who=who, account_id=account_id, act=act, subject=subject,
            before=link.before, after=link.after, previous=link.previous, sha256=sha256,
        )
    )  # fmt: skip
    moved = {"count": link.seq, "last": sha256}
    if key and seal_stands(head, key):
        moved |= {"sealed": link.seq, "seal": seal_of(link.seq, sha256, key)}
    session.execute(update(TrailHeadRow).where(TrailHeadRow.id == HEAD).values(**moved))
