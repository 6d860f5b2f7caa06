"""A demo unit of its own with people who sign in by password."""

from datetime import timedelta

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient
from httpx import Response

from app.security.acts import Role
from app.security.passwords import hash_password
from app.storage.database import transaction
from app.storage.people.accounts import Account, NewAccount, add_account
from app.storage.people.sessions import held_by
from app.storage.people.tables import SessionRow
from tests.people import COOKIE, Clients, the_clock

PASSWORD = "kettle on the blue stair"
HASHED = hash_password(PASSWORD)
NOW = the_clock()


@pytest.fixture
def people(own_app: FastAPI) -> dict[str, Account]:
    """Ines, a nurse; Mirela, a pharmacist; Wanda, the administrator; Adaeze, an educator."""
    made = {}
    with transaction(own_app.state.engine) as session:
        for name, role in (
            ("Ines Vale", Role.NURSE),
            ("Mirela Stancu", Role.PHARMACIST),
            ("Wanda Prill", Role.ADMINISTRATOR),
            ("Adaeze Oyelaran", Role.EDUCATOR),
        ):
            sign_in = name.split()[0].casefold()
            new = NewAccount(sign_in, name, frozenset({role}), password_hash=HASHED)
            made[sign_in] = add_account(session, new, NOW)
    return made


@pytest.fixture
def browser(own_app: FastAPI, people: dict[str, Account], clients: Clients) -> TestClient:
    """A browser in which nobody is signed in; it follows no redirect by itself."""
    return clients(own_app, follow_redirects=False)


def enter(
    browser: TestClient, sign_in: str = "ines", password: str = PASSWORD, **more: str
) -> Response:
    """What the sign-in page answers."""
    return browser.post("/sign-in", data={"sign_in": sign_in, "password": password, **more})


def session_of(browser: TestClient) -> int:
    """The number of the session a browser holds the key of."""
    held = held_by(browser.app.state.engine, browser.cookies[COOKIE])  # type: ignore[attr-defined]
    assert held is not None
    return held.session_id


def leave_alone(browser: TestClient, minutes: float = 15) -> None:
    """Nobody touches this browser for so long."""
    with transaction(browser.app.state.engine) as session:  # type: ignore[attr-defined]
        row = session.get(SessionRow, session_of(browser))
        assert row is not None
        row.seen_at = row.seen_at - timedelta(minutes=minutes)


def grow_old(browser: TestClient, hours: float = 12) -> None:
    """So many hours pass since somebody signed in here."""
    with transaction(browser.app.state.engine) as session:  # type: ignore[attr-defined]
        row = session.get(SessionRow, session_of(browser))
        assert row is not None
        row.begun_at = row.begun_at - timedelta(hours=hours)
