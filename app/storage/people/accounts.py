"""Accounts: who may sign in, and in which roles. Roles are plain words here."""

import secrets
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import datetime
from typing import Final

from sqlalchemy import ColumnElement, func, insert, select, update
from sqlalchemy.orm import Session

from app.storage.people.tables import AccountRow
from app.storage.tables import ID_LENGTH

LOCAL: Final = "local"
ID_BYTES: Final = 6


@dataclass(frozen=True, slots=True)
class Account:
    """One account. how: "local", or "oidc" when the house's own sign-in stands for the person."""

    id: str
    sign_in: str
    name: str
    roles: frozenset[str]
    how: str
    created_at: datetime
    ended_at: datetime | None = None
    must_change: bool = False
    demo: bool = False

    @property
    def active(self) -> bool:
        """True until it is ended."""
        return self.ended_at is None


@dataclass(frozen=True, slots=True)
class NewAccount:
    """What an account begins with. password_hash: None when it signs in elsewhere."""

    sign_in: str
    name: str
    roles: frozenset[str]
    how: str = LOCAL
    subject: str | None = None
    password_hash: str | None = field(default=None, repr=False)
    must_change: bool = False
    demo: bool = False


# Not frozen: Python itself sets an exception's traceback as it passes a context manager.
@dataclass(unsafe_hash=True)
class NameTaken(Exception):
    """Another account signs in by this name."""

    sign_in: str

    def __str__(self) -> str:
        return f"“{self.sign_in}” is the name of another account already"


def as_signed(text: str) -> str:
    """A name as it is compared: capitals, odd blanks and spellings of one letter are all one."""
    return " ".join(unicodedata.normalize("NFKC", text).casefold().split())[:ID_LENGTH]


def add_account(session: Session, new: NewAccount, now: datetime) -> Account:
    """Keep a new account. Raises NameTaken."""
    sign_in = as_signed(new.sign_in)
    if find_account(session, sign_in) is not None:
        raise NameTaken(sign_in)
    account_id = f"a-{secrets.token_hex(ID_BYTES)}"
    values = {
        "id": account_id,
        "sign_in": sign_in,
        "name": new.name,
        "roles": sorted(new.roles),
        "how": new.how,
        "subject": new.subject,
        "password_hash": new.password_hash,
        "must_change": new.must_change,
        "demo": new.demo,
        "created_at": now,
    }
    session.execute(insert(AccountRow).values(**values))
    return Account(
        account_id, sign_in, new.name, new.roles, new.how, now, None, new.must_change, new.demo
    )


def read_account(session: Session, account_id: str) -> Account | None:
    """One account by its id."""
    return _one(session, AccountRow.id == account_id)


def find_account(session: Session, sign_in: str) -> Account | None:
    """One account by the name typed to sign in."""
    return _one(session, AccountRow.sign_in == as_signed(sign_in))


def account_of_subject(session: Session, subject: str) -> Account | None:
    """One account by who the person is at the house's own sign-in."""
    return _one(session, AccountRow.subject == subject)


def subject_of(session: Session, account_id: str) -> str:
    """Who a person is at the house's own sign-in; empty for a local account."""
    asked = select(AccountRow.subject).where(AccountRow.id == account_id)
    return session.scalar(asked) or ""


def _one(session: Session, condition: ColumnElement[bool]) -> Account | None:
    row = session.scalars(select(AccountRow).where(condition)).one_or_none()
    return None if row is None else _account(row)


def all_accounts(session: Session) -> tuple[Account, ...]:
    """Every account: those that are active first, by name."""
    accounts = map(_account, session.scalars(select(AccountRow)))
    return tuple(sorted(accounts, key=lambda one: (not one.active, one.name.casefold(), one.id)))


def any_account(session: Session) -> bool:
    """True when somebody may sign in."""
    active = select(func.count()).select_from(AccountRow).where(AccountRow.ended_at.is_(None))
    return bool(session.scalar(active))


def password_hash_of(session: Session, account_id: str) -> str | None:
    """What a password is held against; None where there is none."""
    return session.scalar(select(AccountRow.password_hash).where(AccountRow.id == account_id))


def set_password(
    session: Session, account_id: str, password_hash: str, *, must_change: bool = False
) -> None:
    """A new password's hash. must_change: somebody else chose it."""
    _set(session, account_id, password_hash=password_hash, must_change=must_change)


def set_roles(session: Session, account_id: str, roles: Iterable[str]) -> None:
    """The roles from now on: whoever is signed in has them at the next request."""
    _set(session, account_id, roles=sorted(set(roles)))


def set_name(session: Session, account_id: str, name: str) -> None:
    """The name others read."""
    _set(session, account_id, name=name)


def end_account(session: Session, account_id: str, now: datetime) -> None:
    """From now on nobody signs in by it."""
    _set(session, account_id, ended_at=now)


def open_again(session: Session, account_id: str) -> None:
    """An account that was ended may sign in again."""
    _set(session, account_id, ended_at=None)


def _set(session: Session, account_id: str, **values: object) -> None:
    session.execute(update(AccountRow).where(AccountRow.id == account_id).values(**values))


def _account(row: AccountRow) -> Account:
    return Account(
        id=row.id,
        sign_in=row.sign_in,
        name=row.name,
        roles=frozenset(row.roles),
        how=row.how,
        created_at=row.created_at,
        ended_at=row.ended_at,
        must_change=row.must_change,
        demo=row.demo,
    )
