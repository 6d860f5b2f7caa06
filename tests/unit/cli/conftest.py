"""Commands as someone types them, over a database of the test's own."""

from collections.abc import Iterator
from pathlib import Path

import pytest


@pytest.fixture(autouse=True)
def own_database(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    monkeypatch.setenv("RINGSIDE_DATABASE_URL", f"sqlite:///{tmp_path / 'var' / 'cli.db'}")
    monkeypatch.setenv("RINGSIDE_DEMO", "1")
    yield
