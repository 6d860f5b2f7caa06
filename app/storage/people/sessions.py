"""Who is signed in where. The browser holds a key, the database its hash."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from typing import Final

from sqlalchemy import Engine, bindparam, insert, select, update
from sqlalchemy.orm import Session

from app.storage.people.keys import hash_of, new_key
from app.storage.people.tables import AccountRow, SessionRow
from app.storage.tables import Document

MOST_SHOWN: Final = 50


@dataclass(frozen=True, slots=True)
class Held:
    """What is known of the session a key belongs to, and of its account at this moment."""

    session_id: int
    account_id: str
    name: str
    sign_in: str
    roles: frozenset[str]
    roles_of_key: frozenset[str]
    via: str
    begun_at: datetime
    seen_at: datetime
    locked_at: datetime | None
    ended_at: datetime | None
    account_ended_at: datetime | None
    must_change: bool
    demo: bool
    confirmed_at: datetime | None


@dataclass(frozen=True, slots=True)
class Sitting:
    """One session as an administrator, or its owner, sees it."""

    id: int
    account_id: str
    via: str
    begun_at: datetime
    seen_at: datetime
    locked_at: datetime | None
    ended_at: datetime | None
    ended_why: str


_HELD: Final = (
    select(
        SessionRow.id,
        AccountRow.id,
        AccountRow.name,
        AccountRow.sign_in,
        AccountRow.roles,
        SessionRow.roles,
        SessionRow.via,
        SessionRow.begun_at,
        SessionRow.seen_at,
        SessionRow.locked_at,
        SessionRow.ended_at,
        AccountRow.ended_at,
        AccountRow.must_change,
        AccountRow.demo,
        SessionRow.confirmed_at,
    )
    .join(AccountRow, AccountRow.id == SessionRow.account_id)
    .where(SessionRow.key_hash == bindparam("key_hash"))
)


def held_by(engine: Engine, key: str) -> Held | None:
    """The session of a key: one indexed query, at every request."""
    with engine.connect() as connection:
        row = connection.execute(_HELD, {"key_hash": hash_of(key)}).one_or_none()
    if row is None:
        return None
    session_id, account_id, name, sign_in, roles, roles_of_key, *rest = row
    return Held(
        session_id, account_id, name, sign_in, frozenset(roles), frozenset(roles_of_key), *rest
    )


def begin_session(
    session: Session,
    account_id: str,
    *,
    via: str,
    now: datetime,
    granted: Document | None = None,
) -> str:
    """A new session of an account; returns the key for the browser."""
    key = new_key()
    roles = session.scalar(select(AccountRow.roles).where(AccountRow.id == account_id)) or []
    values = {
        "key_hash": hash_of(key),
        "account_id": account_id,
        "via": via,
        "roles": roles,
        "begun_at": now,
        "seen_at": now,
        "confirmed_at": now,
        "granted": granted,
    }
    session.execute(insert(SessionRow).values(**values))
    return key


def touch(session: Session, session_id: int, now: datetime) -> None:
    """Somebody was there at this moment."""
    _set(session, session_id, seen_at=now)


def lock(session: Session, session_id: int, now: datetime) -> None:
    """Nothing is shown until the password is given again."""
    _set(session, session_id, locked_at=now)


def unlock(
    session: Session, session_id: int, now: datetime, granted: Document | None = None
) -> str:
    """The person is there again; returns a new key, and the old one opens nothing."""
    _set(session, session_id, locked_at=None, seen_at=now, confirmed_at=now)
    if granted is not None:
        _set(session, session_id, granted=granted)
    return change_key(session, session_id)


def confirm(session: Session, session_id: int, now: datetime, granted: Document) -> None:
    """The house's own sign-in stands for the person at this moment."""
    _set(session, session_id, confirmed_at=now, granted=granted)


def granted_to(session: Session, session_id: int) -> Document:
    """What the house's own sign-in gave to ask again with; nothing when it gave nothing."""
    return session.scalar(select(SessionRow.granted).where(SessionRow.id == session_id)) or {}


def change_key(session: Session, session_id: int) -> str:
    """A new key for the same session and for the account's roles as they are now."""
    key = new_key()
    roles = session.scalar(
        select(AccountRow.roles)
        .join(SessionRow, SessionRow.account_id == AccountRow.id)
        .where(SessionRow.id == session_id)
    )
    _set(session, session_id, key_hash=hash_of(key), roles=roles or [])
    return key


def end_session(session: Session, session_id: int, now: datetime, why: str) -> None:
    """This session is over; the first reason stays."""
    _end(session, (SessionRow.id == session_id,), now, why)


def end_sessions_of(
    session: Session, account_id: str, now: datetime, why: str, but: int | None = None
) -> None:
    """Every session of an account is over. but: the one that stays."""
    conditions = [SessionRow.account_id == account_id]
    if but is not None:
        conditions.append(SessionRow.id != but)
    _end(session, conditions, now, why)


def _end(session: Session, conditions: Iterable[object], now: datetime, why: str) -> None:
    ended = update(SessionRow).where(*conditions, SessionRow.ended_at.is_(None))  # type: ignore[arg-type]
    session.execute(ended.values(ended_at=now, ended_why=why))


def sessions_of(session: Session, account_id: str) -> tuple[Sitting, ...]:
    """Sessions of an account, the newest first."""
    query = (
        select(SessionRow)
        .where(SessionRow.account_id == account_id)
        .order_by(SessionRow.begun_at.desc(), SessionRow.id.desc())
        .limit(MOST_SHOWN)
    )
    return tuple(map(_sitting, session.scalars(query)))


def _sitting(row: SessionRow) -> Sitting:
    return Sitting(
        id=row.id,
        account_id=row.account_id,
        via=row.via,
        begun_at=row.begun_at,
        seen_at=row.seen_at,
        locked_at=row.locked_at,
        ended_at=row.ended_at,
        ended_why=row.ended_why or "",
    )


def _set(session: Session, session_id: int, **values: object) -> None:
    session.execute(update(SessionRow).where(SessionRow.id == session_id).values(**values))
