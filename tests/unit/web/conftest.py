"""Clients of the app, as a browser without script and as htmx are."""

from collections.abc import Callable

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient
from httpx import Response
from sqlalchemy import Engine

from app.main import create_app
from app.settings import read_settings
from tests.people import EVERYDAY, Clients
from tests.unit.conftest import ClientAs

Tell = Callable[..., Response]
HTMX = {"HX-Request": "true"}


@pytest.fixture
def client(client_as: ClientAs) -> TestClient:
    """A browser without script, of somebody who is nurse, prescriber and pharmacist."""
    return client_as(*EVERYDAY)


@pytest.fixture
def htmx(client_as: ClientAs) -> TestClient:
    """htmx in a browser, asking for parts; of somebody who is nurse, prescriber and pharmacist."""
    return client_as(*EVERYDAY, headers=HTMX)


@pytest.fixture
def own_app(demo_engine: Engine) -> FastAPI:
    """The whole app over a demo unit that this test alone changes."""
    url = demo_engine.url.render_as_string(hide_password=False)
    return create_app(read_settings({"RINGSIDE_DEMO": "1", "RINGSIDE_DATABASE_URL": url}))


@pytest.fixture
def ward(own_app: FastAPI, clients: Clients) -> TestClient:
    """A browser on a demo unit that this test alone changes."""
    return clients(own_app, *EVERYDAY)


@pytest.fixture
def tell(ward: TestClient) -> Tell:
    """tell(fluid_id, state, note=…, by=…): what a person tells on the fluid's card."""

    def told(fluid_id: str, state: str, note: str = "lorry late", **more: str) -> Response:
        data = {"state": state, "note": note, **more}
        return ward.post(f"/catalogue/{fluid_id}/stock", data=data, follow_redirects=False)

    return told
