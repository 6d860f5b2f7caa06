"""The app over a freshly loaded demo unit."""

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient

from app.main import create_app
from app.settings import Settings
from app.storage.database import connect, migrate, transaction
from app.storage.seed import seed


@pytest.fixture(scope="session")
def app(tmp_path_factory: pytest.TempPathFactory) -> FastAPI:
    """The whole app with the demo unit loaded."""
    folder: Path = tmp_path_factory.mktemp("unit")
    url = f"sqlite:///{folder / 'unit.db'}"
    engine = connect(url)
    migrate(engine)
    with transaction(engine) as session:
        seed(session, now=datetime(2031, 3, 4, tzinfo=UTC), demo=True)
    engine.dispose()
    return create_app(Settings(database_url=url, demo=True))


@pytest.fixture
def client(app: FastAPI) -> Iterator[TestClient]:
    """A browser without script."""
    with TestClient(app, raise_server_exceptions=False) as client:
        yield client


@pytest.fixture
def htmx(app: FastAPI) -> Iterator[TestClient]:
    """htmx in a browser, asking for parts."""
    headers = {"HX-Request": "true"}
    with TestClient(app, raise_server_exceptions=False, headers=headers) as client:
        yield client
