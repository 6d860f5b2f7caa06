"""Accounts, their sessions, tokens of machines, and counts of wrong tries.

Of every secret only a hash is kept: a copy of this database opens nothing.
"""

from datetime import datetime
from typing import Any, Final

from sqlalchemy import ForeignKey, String
from sqlalchemy.orm import Mapped, mapped_column

from app.storage.tables import ID_LENGTH, SHA256_LENGTH, Base, Document

SUBJECT_LENGTH: Final = 512


class AccountRow(Base):
    """Somebody who may sign in. Never deleted: what they did keeps its name.

    sign_in: the name typed to sign in, casefolded. subject: who they are at the house's own
    sign-in. must_change: the password was chosen by somebody else.
    """

    __tablename__ = "account"

    id: Mapped[str] = mapped_column(String(ID_LENGTH), primary_key=True)
    sign_in: Mapped[str] = mapped_column(String(ID_LENGTH), unique=True)
    name: Mapped[str]
    roles: Mapped[list[Any]]
    how: Mapped[str]
    subject: Mapped[str | None] = mapped_column(String(SUBJECT_LENGTH), unique=True)
    password_hash: Mapped[str | None]
    must_change: Mapped[bool]
    demo: Mapped[bool]
    created_at: Mapped[datetime]
    ended_at: Mapped[datetime | None]


class SessionRow(Base):
    """One signing in, from one browser.

    roles: those the browser's present key was given for. confirmed_at, granted: when the house's
    own sign-in last stood for the person, and what it gave to ask again with.
    """

    __tablename__ = "signed_in"

    id: Mapped[int] = mapped_column(primary_key=True)
    key_hash: Mapped[str] = mapped_column(String(SHA256_LENGTH), unique=True)
    account_id: Mapped[str] = mapped_column(ForeignKey("account.id"), index=True)
    via: Mapped[str]
    roles: Mapped[list[Any]]
    begun_at: Mapped[datetime]
    seen_at: Mapped[datetime]
    locked_at: Mapped[datetime | None]
    ended_at: Mapped[datetime | None]
    ended_why: Mapped[str | None]
    confirmed_at: Mapped[datetime | None]
    granted: Mapped[Document | None]


class TokenRow(Base):
    """A machine client's token. scopes: the parts of the interface it opens."""

    __tablename__ = "machine_token"

    id: Mapped[str] = mapped_column(String(ID_LENGTH), primary_key=True)
    key_hash: Mapped[str] = mapped_column(String(SHA256_LENGTH), unique=True)
    name: Mapped[str]
    scopes: Mapped[list[Any]]
    made_by: Mapped[str]
    made_at: Mapped[datetime]
    expires_at: Mapped[datetime]
    used_at: Mapped[datetime | None]
    ended_at: Mapped[datetime | None]


class AttemptRow(Base):
    """Wrong tries of one name, or from one address, in a row. key: a hash of either."""

    __tablename__ = "sign_in_attempt"

    key: Mapped[str] = mapped_column(String(SHA256_LENGTH), primary_key=True)
    failures: Mapped[int]
    last_at: Mapped[datetime]
    wait_until: Mapped[datetime | None]
