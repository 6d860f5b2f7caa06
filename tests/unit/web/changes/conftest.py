"""Two browsers on a unit of one's own: a pharmacist who drafts, a prescriber who decides."""

import re
from collections.abc import Callable
from datetime import UTC, datetime, timedelta

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient
from httpx import Response

from app.security.acts import Role
from tests.people import Clients

Draft = Callable[..., Response]
Decide = Callable[..., Response]
SEEN = re.compile(r'name="(?:seen|based_on)" value="([^"]*)"')
# A form is held against the real clock.
NOW = datetime.now(UTC)  # noqa: TID251
IN_A_YEAR = (NOW + timedelta(days=365)).date().isoformat()


@pytest.fixture
def pharmacist(own_app: FastAPI, clients: Clients) -> TestClient:
    """A pharmacist's browser."""
    return clients(own_app, Role.PHARMACIST)


@pytest.fixture
def prescriber(own_app: FastAPI, clients: Clients) -> TestClient:
    """A prescriber's browser on the same unit."""
    return clients(own_app, Role.PRESCRIBER)


def begun(html: str) -> str:
    """What the form carries to say when it was opened."""
    found = SEEN.search(html)
    assert found is not None
    return found[1]


def limit_form(client: TestClient, value: str = "6.2", **more: str) -> dict[str, str]:
    """The form of k-hyper's limit, opened and filled."""
    html = client.get("/rules/k-hyper/change?limit=potassium_high_mmol_l").text
    return {
        "limit": "potassium_high_mmol_l", "value": value, "reason": "agreed with the kidney unit",
        "effective_from": "", "review_on": IN_A_YEAR, "based_on": begun(html), **more,
    }  # fmt: skip


def switch_form(client: TestClient, turn: str = "off", **more: str) -> dict[str, str]:
    """The form that switches k-hyper, opened and filled."""
    html = client.get(f"/rules/k-hyper/change?turn={turn}").text
    return {
        "turn": turn, "reason": "too loud here", "effective_from": "", "review_on": IN_A_YEAR,
        "based_on": begun(html), **more,
    }  # fmt: skip


@pytest.fixture
def draft(pharmacist: TestClient) -> Draft:
    """draft(form): what the pharmacist sends from the rule's page."""

    def sent(form: dict[str, str]) -> Response:
        return pharmacist.post("/rules/k-hyper/change", data=form, follow_redirects=False)

    return sent


def number_of(answer: Response) -> int:
    """The change that a form led to."""
    assert answer.status_code == 303, answer.text
    return int(answer.headers["location"].rsplit("/", 1)[1])


def decide(client: TestClient, number: int, act: str, reason: str = "", seen: str = "") -> Response:
    """Open a change, and decide it."""
    html = client.get(f"/changes/{number}").text
    data = {"reason": reason, "seen": seen or begun(html)}
    return client.post(f"/changes/{number}/{act}", data=data, follow_redirects=False)
