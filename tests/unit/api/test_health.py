from pathlib import Path

from fastapi.testclient import TestClient
from sqlalchemy import create_engine

from app.main import create_app
from app.settings import read_settings


def test_a_server_with_a_loaded_catalogue_is_well_and_ready(client: TestClient) -> None:
    assert client.get("/healthz").status_code == 200
    assert client.get("/readyz").json()["catalogue"]


def test_a_server_whose_database_does_not_answer_is_not_well(tmp_path: Path) -> None:
    app = create_app(read_settings({"RINGSIDE_DATABASE_URL": f"sqlite:///{tmp_path / 'x.db'}"}))
    app.state.engine = create_engine(f"sqlite:///{tmp_path}")
    with TestClient(app) as client:
        assert client.get("/healthz").status_code == 503
        assert client.get("/readyz").status_code == 503


def test_a_server_before_its_first_migration_is_well_but_not_ready(tmp_path: Path) -> None:
    url = f"sqlite:///{tmp_path / 'empty.db'}"
    with TestClient(create_app(read_settings({"RINGSIDE_DATABASE_URL": url}))) as client:
        assert client.get("/healthz").status_code == 200
        assert client.get("/readyz").status_code == 503
