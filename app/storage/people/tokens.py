"""Tokens of machine clients: shown once when made, kept as a hash."""

import secrets
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from typing import Final

from sqlalchemy import Engine, bindparam, insert, select, update
from sqlalchemy.orm import Session

from app.storage.people.keys import hash_of, new_key
from app.storage.people.tables import TokenRow

ID_BYTES: Final = 4


@dataclass(frozen=True, slots=True)
class Token:
    """One token. scopes: the parts of the interface it opens, as plain words."""

    id: str
    name: str
    scopes: frozenset[str]
    made_by: str
    made_at: datetime
    expires_at: datetime
    used_at: datetime | None = None
    ended_at: datetime | None = None

    def opens(self, now: datetime) -> bool:
        """True while it is neither ended nor expired."""
        return self.ended_at is None and now < self.expires_at


_OF_KEY: Final = select(TokenRow.__table__).where(TokenRow.key_hash == bindparam("key_hash"))


def make_token(
    session: Session,
    name: str,
    scopes: Iterable[str],
    *,
    by: str,
    lasts: tuple[datetime, datetime],
) -> tuple[Token, str]:
    """A new token and its key. lasts: when it is made, and when it expires."""
    key, (made_at, expires_at) = new_key(), lasts
    token = Token(
        f"t-{secrets.token_hex(ID_BYTES)}", name, frozenset(scopes), by, made_at, expires_at
    )
    values = {
        "id": token.id,
        "key_hash": hash_of(key),
        "name": name,
        "scopes": sorted(token.scopes),
        "made_by": by,
        "made_at": made_at,
        "expires_at": expires_at,
    }
    session.execute(insert(TokenRow).values(**values))
    return token, key


def token_of(engine: Engine, key: str) -> Token | None:
    """The token of a key: one indexed query."""
    with engine.connect() as connection:
        row = connection.execute(_OF_KEY, {"key_hash": hash_of(key)}).one_or_none()
    if row is None:
        return None
    return Token(
        row.id,
        row.name,
        frozenset(row.scopes),
        row.made_by,
        row.made_at,
        row.expires_at,
        row.used_at,
        row.ended_at,
    )


def all_tokens(session: Session) -> tuple[Token, ...]:
    """Every token, the newest first."""
    query = select(TokenRow).order_by(TokenRow.made_at.desc(), TokenRow.id)
    return tuple(map(_token, session.scalars(query)))


def read_token(session: Session, token_id: str) -> Token | None:
    """One token by its id."""
    row = session.get(TokenRow, token_id)
    return None if row is None else _token(row)


def token_used(session: Session, token_id: str, now: datetime) -> None:
    """It opened something at this moment."""
    session.execute(update(TokenRow).where(TokenRow.id == token_id).values(used_at=now))


def end_token(session: Session, token_id: str, now: datetime) -> None:
    """It opens nothing any more; the first moment stays."""
    ended = update(TokenRow).where(TokenRow.id == token_id, TokenRow.ended_at.is_(None))
    session.execute(ended.values(ended_at=now))


def _token(row: TokenRow) -> Token:
    return Token(
        id=row.id,
        name=row.name,
        scopes=frozenset(row.scopes),
        made_by=row.made_by,
        made_at=row.made_at,
        expires_at=row.expires_at,
        used_at=row.used_at,
        ended_at=row.ended_at,
    )
