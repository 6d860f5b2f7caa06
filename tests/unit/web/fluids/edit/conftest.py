"""People at one entry, each in a browser of their own, on a unit that a test alone changes."""

from collections.abc import Callable, Mapping
from datetime import UTC, datetime, timedelta
from html import unescape

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient
from httpx import Response

from app.catalogue.catalogue import Catalogue
from app.catalogue.document import document_of
from app.security.acts import Role
from app.web.fluids.edit.typed import typed_from
from tests.people import Clients

NOW = datetime.now(UTC)  # noqa: TID251 - a form is held against the real clock
IN_A_YEAR = (NOW + timedelta(days=365)).date().isoformat()
EDIT = "/catalogue/lactated-ringers/edit"
Form = dict[str, str]
OpenForm = Callable[..., Form]


@pytest.fixture
def pharmacist(own_app: FastAPI, clients: Clients) -> TestClient:
    """A pharmacist's browser."""
    return clients(own_app, Role.PHARMACIST)


@pytest.fixture
def colleague(own_app: FastAPI, clients: Clients) -> TestClient:
    """Another person's browser on the same unit, who may draft and approve."""
    return clients(own_app, Role.PRESCRIBER, Role.PHARMACIST)


@pytest.fixture
def entry(catalogue: Catalogue) -> Form:
    """Lactated Ringer's as the form is filled with it."""
    fluid = catalogue.get("lactated-ringers")
    assert fluid is not None
    return typed_from(document_of(fluid))


@pytest.fixture
def form(entry: Form) -> OpenForm:
    """form(client, field=…): the form opened, and filled with what is in force and these fields."""

    def opened(client: TestClient, changed: Mapping[str, str] | None = None) -> Form:
        begun = unescape(hidden(client.get(EDIT).text, "based_on"))
        terms = {"reason": "new label", "review_on": IN_A_YEAR, "based_on": begun}
        return {**entry, **terms, "do": "send", **(changed or {})}

    return opened


POTASSIUM = {
    "composition_mmol_l.potassium": "5.4", "composition_mmol_l.chloride": "110.4",
    "osmolarity_labelled_mosm_l": "275",
}  # fmt: skip


def hidden(html: str, name: str) -> str:
    """What a hidden field of the page holds."""
    return html.split(f'name="{name}" value="', 1)[1].split('"', 1)[0]


def sent(client: TestClient, form: Form, path: str = EDIT) -> Response:
    """What comes back of a form."""
    return client.post(path, data=form, follow_redirects=False)


def number_of(answer: Response) -> int:
    """The change that a form led to."""
    assert answer.status_code == 303, answer.text
    return int(answer.headers["location"].rsplit("/", 1)[1])
