"""A database of one's own, empty of rows, at the newest migration."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import Engine

from app.storage.database import connect, migrate


@pytest.fixture
def engine(tmp_path: Path) -> Iterator[Engine]:
    """A migrated SQLite file that this test alone sees."""
    made = connect(f"sqlite:///{tmp_path / 'unit.db'}")
    migrate(made)
    yield made
    made.dispose()
