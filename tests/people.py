"""People signed in, for tests: each role's own account, made when first needed."""

from contextlib import ExitStack
from datetime import UTC, datetime
from time import time
from typing import Any

from fastapi import FastAPI
from fastapi.testclient import TestClient
from sqlalchemy import Engine

from app.security.acts import Role
from app.security.person import Person
from app.storage.database import transaction
from app.storage.people.accounts import Account, NewAccount, add_account, find_account
from app.storage.people.sessions import begin_session

# Between them they may do all that nurses, prescribers and pharmacists may.
EVERYDAY = (Role.NURSE, Role.PRESCRIBER, Role.PHARMACIST)
COOKIE = "ringside"
PASSWORD = "four walls and a roof"


def the_clock() -> datetime:
    """Now, by which sessions are reckoned."""
    return datetime.fromtimestamp(time(), UTC)


def sign_in_name(*roles: Role) -> str:
    """What such a person signs in by."""
    return "test-" + "-".join(sorted(roles))


def person_in(*roles: Role) -> Person:
    """Somebody of our invention in these roles."""
    return Person("a-test", "Test " + " ".join(sorted(roles)), frozenset(roles), "local")


def account_in(engine: Engine, *roles: Role) -> Account:
    """The account of such a person, made when there is none."""
    name = sign_in_name(*roles)
    with transaction(engine) as session:
        found = find_account(session, name)
        if found is not None:
            return found
        new = NewAccount(name, person_in(*roles).name, frozenset(roles))
        return add_account(session, new, the_clock())


def key_for(engine: Engine, *roles: Role) -> str:
    """What the browser of such a person holds once signed in."""
    account = account_in(engine, *roles)
    with transaction(engine) as session:
        return begin_session(session, account.id, via="local", now=the_clock())


class Clients:
    """clients(app, role, …): a browser in which such a person is signed in; none: signed out."""

    def __init__(self) -> None:
        self.opened = ExitStack()

    def __call__(self, app: FastAPI, *roles: Role, **how: Any) -> TestClient:  # noqa: ANN401
        client = TestClient(app, **{"raise_server_exceptions": False, **how})
        if roles:
            client.cookies.set(COOKIE, key_for(app.state.engine, *roles))
        return self.opened.enter_context(client)
