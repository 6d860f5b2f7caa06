"""Somebody the house stands for becomes an account here, with the roles of their groups."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Final

from sqlalchemy.orm import Session

from app.security.oidc.claims import Told
from app.security.oidc.house import House
from app.storage.audit.trail import record
from app.storage.people.accounts import (
    Account,
    NameTaken,
    NewAccount,
    account_of_subject,
    add_account,
    set_name,
    set_roles,
)

HOUSE: Final = "oidc"
THE_HOUSE: Final = "the house's own sign-in"
MOST_NAMESAKES: Final = 100


@dataclass
class NotLetIn(Exception):
    """The house stands for the person, but nothing here is theirs."""

    why: str

    def __str__(self) -> str:
        return self.why


def account_for(session: Session, house: House, told: Told, now: datetime) -> Account:
    """The account of a person the house stands for, made or brought up to date.

    Raises NotLetIn when none of the groups has a role here, or the account was ended here.
    """
    roles = frozenset(str(role) for role in house.roles_of(told.groups))
    account = account_of_subject(session, subject_at(house, told))
    if account is not None and not account.active:
        raise NotLetIn("This account was ended here. Ask whoever keeps the accounts.")
    if not roles:
        if account is not None:
            _bring_up(session, account, told.name, roles, now)
        raise NotLetIn("None of your groups has a role here. Ask whoever keeps the accounts.")
    if account is None:
        return _made(session, house, told, roles, now)
    return _bring_up(session, account, told.name, roles, now)


def subject_at(house: House, told: Told) -> str:
    """Who it is: a subject is one person at one provider only."""
    return f"{house.issuer} {told.subject}"


def _made(
    session: Session, house: House, told: Told, roles: frozenset[str], now: datetime
) -> Account:
    for name in _names(told.sign_in):
        new = NewAccount(name, told.name, roles, how=HOUSE, subject=subject_at(house, told))
        try:
            account = add_account(session, new, now)
        except NameTaken:
            continue
        _note(session, account, "made", now, before=None, roles=roles)
        return account
    raise NotLetIn("Too many accounts have this name already.")


def _names(sign_in: str) -> Iterator[str]:
    """A local account may have the same name: then "mira (2)"."""
    yield sign_in
    for number in range(2, MOST_NAMESAKES):
        yield f"{sign_in} ({number})"


def _bring_up(
    session: Session, account: Account, name: str, roles: frozenset[str], now: datetime
) -> Account:
    """The account as the house has the person now."""
    if account.roles != roles:
        set_roles(session, account.id, roles)
        _note(session, account, "changed the roles of", now, before=account.roles, roles=roles)
    if account.name != name:
        set_name(session, account.id, name)
    return Account(account.id, account.sign_in, name, roles, account.how, account.created_at, None)


def _note(  # noqa: PLR0913 - each is another part of one row
    session: Session,
    account: Account,
    act: str,
    now: datetime,
    *,
    before: frozenset[str] | None,
    roles: frozenset[str],
) -> None:
    record(
        session,
        at=now,
        who=THE_HOUSE,
        account_id=account.id,
        act=act,
        subject=f"account:{account.id}",
        before=None if before is None else {"roles": sorted(before)},
        after={"roles": sorted(roles)},
    )
