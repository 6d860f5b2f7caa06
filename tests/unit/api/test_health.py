from pathlib import Path

from fastapi.testclient import TestClient

from app.main import create_app
from app.settings import read_settings


def test_a_server_with_a_loaded_catalogue_is_well_and_ready(client: TestClient) -> None:
    assert client.get("/healthz").status_code == 200
    assert client.get("/readyz").json()["fluids"] > 0


def test_a_server_whose_database_cannot_be_opened_is_not_well(tmp_path: Path) -> None:
    url = f"sqlite:///{tmp_path / 'no' / 'such' / 'folder' / 'x.db'}"
    with TestClient(create_app(read_settings({"RINGSIDE_DATABASE_URL": url}))) as client:
        assert client.get("/healthz").status_code == 503
        assert client.get("/readyz").status_code == 503
