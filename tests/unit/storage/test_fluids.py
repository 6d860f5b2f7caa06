"""The catalogue from the database is the catalogue from the files."""

from datetime import UTC, datetime, timedelta

import pytest
from sqlalchemy import Engine

from app.catalogue.catalogue import Catalogue
from app.catalogue.entry import EntryError
from app.storage.changes.release import seed_fluids
from app.storage.changes.versions import add_version
from app.storage.database import reading, transaction
from app.storage.fluids import count_fluids, read_catalogue
from app.storage.seed_files import SEED_DATA

NOW = datetime(2031, 3, 4, 7, 0, tzinfo=UTC)


@pytest.fixture
def loaded(engine: Engine) -> Engine:
    with transaction(engine) as session:
        seed_fluids(session, now=NOW, folder=SEED_DATA / "fluids")
    return engine


def test_the_database_gives_back_every_fluid_as_its_file_has_it(
    loaded: Engine, catalogue: Catalogue
) -> None:
    with reading(loaded) as session:
        read = read_catalogue(session, NOW)
    assert read.fluids == catalogue.fluids
    assert read.version == catalogue.version


def test_fluids_are_counted(loaded: Engine, catalogue: Catalogue) -> None:
    with reading(loaded) as session:
        assert count_fluids(session) == len(catalogue)
    with transaction(loaded) as session:
        add_version(session, "dextrose-5", {"id": "dextrose-5"}, at=NOW, release="2")
    with reading(loaded) as session:
        assert count_fluids(session) == len(catalogue)


def test_a_row_that_is_no_fluid_is_an_error_not_a_gap(loaded: Engine) -> None:
    with transaction(loaded) as session:
        add_version(session, "dextrose-5", {"id": "dextrose-5"}, at=NOW, release="2")
    with reading(loaded) as session, pytest.raises(EntryError):
        read_catalogue(session, NOW)


def test_before_the_first_load_there_was_no_catalogue(loaded: Engine) -> None:
    with reading(loaded) as session:
        assert len(read_catalogue(session, NOW - timedelta(minutes=1))) == 0
