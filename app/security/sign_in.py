"""Signing in: the password looked at, the session begun. Whatever stands for a person, be it a
password or the house's own sign-in, ends in sign_in_person().
"""

from dataclasses import dataclass, field
from datetime import datetime
from typing import Final

from sqlalchemy import Engine
from sqlalchemy.orm import Session

from app.security.acts import Role
from app.security.passwords import hash_password, is_right, needs_new_hash
from app.security.standing import NOBODY, Standing, State
from app.settings import Settings
from app.storage.audit.trail import record
from app.storage.database import reading, transaction
from app.storage.people.accounts import (
    LOCAL,
    Account,
    as_signed,
    find_account,
    password_hash_of,
    set_password,
)
from app.storage.people.attempts import (
    Counted,
    by_address,
    by_name,
    by_session,
    count_try,
    try_was_right,
)
from app.storage.people.sessions import begin_session, end_session, unlock
from app.storage.tables import Document

LONGEST_PASSWORD_SENT: Final = 1024
ANEW: Final = "signed in anew"
SOMEBODY_ELSE: Final = "somebody else signed in"
PAST_THE_HOUSE: Final = "signed in by password past the house's own sign-in"


@dataclass(frozen=True, slots=True)
class Tried:
    """One try. before: where the browser stands already."""

    sign_in: str
    password: str = field(repr=False)
    address: str
    before: Standing = NOBODY


@dataclass(frozen=True, slots=True)
class SignedIn:
    """It worked: the account, and the key for its browser."""

    account: Account
    key: str = field(repr=False)


# Not frozen: Python itself sets an exception's traceback as it passes a context manager.
@dataclass(unsafe_hash=True)
class NotSignedIn(Exception):
    """It did not. wait_s: seconds until another try is looked at; 0 when this one was wrong."""

    wait_s: int = 0


def sign_in_by_password(
    engine: Engine, tried: Tried, settings: Settings, now: datetime
) -> SignedIn:
    """Sign somebody in by password. Raises NotSignedIn."""
    account = check_password(engine, tried, settings, now)
    with transaction(engine) as session:
        key = sign_in_person(session, account, via=LOCAL, now=now, before=tried.before)
        if settings.house:
            record(
                session,
                at=now,
                who=account.name,
                account_id=account.id,
                act=PAST_THE_HOUSE,
                subject=f"account:{account.id}",
            )
    return SignedIn(account, key)


def check_password(engine: Engine, tried: Tried, settings: Settings, now: datetime) -> Account:
    """The account a name and password belong to. Raises NotSignedIn.

    An unknown name, a wrong password, an ended account and one that may not use a password here
    are answered alike, and take equally long.
    """
    name, address = _name_of(tried), by_address(tried.address)
    with transaction(engine) as session:
        wait_s = count_try(session, (name, address), now)
    if wait_s:
        raise NotSignedIn(wait_s)
    with reading(engine) as session:
        account = find_account(session, tried.sign_in)
        kept = password_hash_of(session, account.id) if account else None
    right = is_right(tried.password[:LONGEST_PASSWORD_SENT], kept)
    if account is None or not right or not may_use_password(account, settings):
        raise NotSignedIn
    with transaction(engine) as session:
        try_was_right(session, name, address)
        if kept and needs_new_hash(kept):
            anew = hash_password(tried.password)
            set_password(session, account.id, anew, must_change=account.must_change)
    return account


def _name_of(tried: Tried) -> Counted:
    """What tries are counted by: the name, or for whoever has a session of it, that session."""
    sign_in, before = as_signed(tried.sign_in), tried.before
    is_theirs = before.state in (State.OPEN, State.LOCKED) and before.sign_in == sign_in
    return by_session(before.session_id) if is_theirs else by_name(sign_in)


def may_use_password(account: Account, settings: Settings) -> bool:
    """Whether a password opens this account at all.

    Demo accounts do in demo mode alone; where the house has its own sign-in, administrators do,
    so that somebody comes in while it is down.
    """
    if not account.active or account.how != LOCAL or (account.demo and not settings.demo):
        return False
    return not settings.house or Role.ADMINISTRATOR in account.roles


def sign_in_person(  # noqa: PLR0913 - each says something else of one signing in
    session: Session,
    account: Account,
    *,
    via: str,
    now: datetime,
    before: Standing = NOBODY,
    granted: Document | None = None,
) -> str:
    """Begin a session, or go on with the same person's locked one; returns the browser's key.

    The key is always a new one. granted: what the house's own sign-in gave to ask again with.
    """
    same = before.person is not None and before.person.account_id == account.id
    if same and before.state is State.LOCKED and before.person and before.person.via == via:
        return unlock(session, before.session_id, now, granted)
    if before.state in (State.OPEN, State.LOCKED):
        end_session(session, before.session_id, now, ANEW if same else SOMEBODY_ELSE)
    return begin_session(session, account.id, via=via, now=now, granted=granted)
