"""A client of the outside interface, with the catalogue of seed_data/."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from app.main import create_app
from app.settings import read_settings

DEMO_CLIENT = {"Authorization": "Bearer demo"}


@pytest.fixture(scope="session")
def client(tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    """A machine client whose token is known."""
    folder: Path = tmp_path_factory.mktemp("api")
    url = f"sqlite:///{folder / 'api.db'}"
    settings = read_settings({"RINGSIDE_DEMO": "1", "RINGSIDE_DATABASE_URL": url})
    with TestClient(create_app(settings), headers=DEMO_CLIENT) as opened:
        yield opened
