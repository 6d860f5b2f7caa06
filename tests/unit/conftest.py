"""A database of one's own, and the whole app over a freshly loaded demo unit."""

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient
from sqlalchemy import Engine

from app.main import create_app
from app.security.acts import Role
from app.settings import read_settings
from app.storage.database import connect, migrate, transaction
from app.storage.seed import seed
from tests.conftest import LOADED
from tests.people import Clients

ClientAs = Callable[..., TestClient]


@pytest.fixture(scope="session")
def migrated(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A migrated SQLite file, to be copied: migrating takes a test's time many times over."""
    path: Path = tmp_path_factory.mktemp("migrated") / "unit.db"
    engine = connect(f"sqlite:///{path}")
    migrate(engine)
    engine.dispose()
    return path


@pytest.fixture(scope="session")
def demo_unit(tmp_path_factory: pytest.TempPathFactory, migrated: Path) -> Path:
    """A file with the demo unit loaded, to be copied."""
    path = Path(shutil.copy(migrated, tmp_path_factory.mktemp("demo") / "unit.db"))
    engine = connect(f"sqlite:///{path}")
    with transaction(engine) as session:
        seed(session, now=LOADED, demo=True)
    engine.dispose()
    return path


@pytest.fixture
def engine(tmp_path: Path, migrated: Path) -> Iterator[Engine]:
    """A migrated SQLite file that this test alone sees."""
    made = connect(f"sqlite:///{shutil.copy(migrated, tmp_path / 'unit.db')}")
    yield made
    made.dispose()


@pytest.fixture
def demo_engine(tmp_path: Path, demo_unit: Path) -> Iterator[Engine]:
    """A demo unit that this test alone sees."""
    made = connect(f"sqlite:///{shutil.copy(demo_unit, tmp_path / 'demo.db')}")
    yield made
    made.dispose()


@pytest.fixture(scope="session")
def app(tmp_path_factory: pytest.TempPathFactory, demo_unit: Path) -> FastAPI:
    """The whole app with the demo unit loaded."""
    url = f"sqlite:///{shutil.copy(demo_unit, tmp_path_factory.mktemp('unit') / 'unit.db')}"
    return create_app(read_settings({"RINGSIDE_DEMO": "1", "RINGSIDE_DATABASE_URL": url}))


@pytest.fixture
def clients() -> Iterator[Clients]:
    """clients(app, role, …): a browser signed in over any app; with no role, signed out."""
    made = Clients()
    with made.opened:
        yield made


@pytest.fixture
def client_as(app: FastAPI, clients: Clients) -> ClientAs:
    """client_as(Role.NURSE, …): a browser in which somebody in these roles is signed in."""

    def opened(*roles: Role, **how: object) -> TestClient:
        return clients(app, *roles, **how)

    return opened


@pytest.fixture
def signed_out(app: FastAPI, clients: Clients) -> TestClient:
    """A browser in which nobody is signed in."""
    return clients(app)
