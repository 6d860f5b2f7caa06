"""The trail read: walked through for a check, or the part that somebody asks to see."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Final

from sqlalchemy import ColumnElement, Connection, false, func, or_, select
from sqlalchemy.orm import Session

from app.storage.audit.chain import Head, Link
from app.storage.audit.check import FROM_THE_FIRST, Anchor, Upto, Verdict, check
from app.storage.audit.tables import TrailHeadRow, TrailRow

ROWS_AT_ONCE: Final = 5000
LINK: Final = tuple(getattr(TrailRow, name) for name in Link.__dataclass_fields__)
HEAD: Final = tuple(getattr(TrailHeadRow, name) for name in Head.__dataclass_fields__)


@dataclass(frozen=True, slots=True)
class Wanted:
    """Which acts. Empty: any. kinds: of subject, before the colon; subject: its beginning.

    since, until: since is within, until is not.
    """

    who: str = ""
    act: str = ""
    subject: str = ""
    since: datetime | None = None
    until: datetime | None = None
    kinds: frozenset[str] | None = None


ANY: Final = Wanted()


def check_trail(
    session: Session, key: bytes, anchors: Sequence[Anchor] = (), start: Upto = FROM_THE_FIRST
) -> Verdict:
    """The trail checked as one state of the database has it, from the row after start on."""
    connection = session.connection()
    if connection.dialect.name == "postgresql":
        connection = session.connection(execution_options={"isolation_level": "REPEATABLE READ"})
    return check(_links(connection, start), read_head(session), key, anchors, start)


def read_head(session: Session) -> Head | None:
    """How long the trail is; None when its head row is gone."""
    row = session.execute(select(*HEAD)).first()
    return None if row is None else Head(*row)


def read_acts(session: Session, wanted: Wanted, most: int, before: int = 0) -> tuple[Link, ...]:
    """The newest acts that are wanted, newest first. before: only of rows under this number."""
    query = select(*LINK).where(*_where(wanted)).order_by(TrailRow.seq.desc()).limit(most)
    if before:
        query = query.where(TrailRow.seq < before)
    return tuple(Link(*row) for row in session.execute(query))


def all_acts(session: Session, wanted: Wanted, upto: int) -> Iterator[Link]:
    """Every act that is wanted up to a row, oldest first, read as it goes."""
    query = select(*LINK).where(TrailRow.seq <= upto, *_where(wanted)).order_by(TrailRow.seq)
    rows = session.connection().execution_options(yield_per=ROWS_AT_ONCE).execute(query)
    return (Link(*row) for row in rows)


def count_acts(session: Session, wanted: Wanted, most: int) -> int:
    """How many acts are wanted, counted to one more than most."""
    some = select(TrailRow.seq).where(*_where(wanted)).limit(most + 1).subquery()
    return session.scalar(select(func.count()).select_from(some)) or 0


def acts_told(session: Session, kinds: frozenset[str] | None = None) -> tuple[str, ...]:
    """Every act there has been on subjects of these kinds, by name; None: of any."""
    every = sorted(session.scalars(select(TrailRow.act).distinct()))
    if kinds is None:
        return tuple(every)
    return tuple(act for act in every if read_acts(session, Wanted(act=act, kinds=kinds), 1))


def _links(connection: Connection, start: Upto) -> Iterator[Link]:
    query = select(*LINK).order_by(TrailRow.seq)
    if start.rows:
        query = query.where(TrailRow.seq > start.rows)
    rows = connection.execution_options(yield_per=ROWS_AT_ONCE).execute(query)
    return (Link(*row) for row in rows)


def _where(wanted: Wanted) -> list[ColumnElement[bool]]:
    row = TrailRow
    found = []
    if wanted.who:
        name = row.who.icontains(wanted.who, autoescape=True)
        found.append(or_(name, row.account_id == wanted.who))
    if wanted.act:
        found.append(row.act == wanted.act)
    if wanted.subject:
        found.append(row.subject.startswith(wanted.subject, autoescape=True))
    if wanted.since:
        found.append(row.at >= wanted.since)
    if wanted.until:
        found.append(row.at < wanted.until)
    if wanted.kinds is not None:
        found.append(or_(false(), *map(_of_kind, sorted(wanted.kinds))))
    return found


def _of_kind(kind: str) -> ColumnElement[bool]:
    return or_(TrailRow.subject == kind, TrailRow.subject.startswith(f"{kind}:", autoescape=True))
