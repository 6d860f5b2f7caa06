"""The demo unit's counts are told once."""

from pathlib import Path

import pytest
from sqlalchemy import Engine

from app.catalogue.catalogue import Catalogue
from app.catalogue.entry import EntryError
from app.storage.database import transaction
from app.storage.demo_files import DEMO
from app.storage.shortage.counts import read_counts
from app.storage.shortage.seeding import read_counts_file, seed_counts


def test_the_shipped_file_is_told_whole_and_then_never_again(
    engine: Engine, catalogue: Catalogue
) -> None:
    path = DEMO / "counts.toml"
    with transaction(engine) as session:
        added, of = seed_counts(session, path, catalogue)
        assert added == of > 10
        assert seed_counts(session, path, catalogue) == (0, of)
        assert read_counts(session).bags("sodium-chloride-0.9", 1000) == 54


def test_no_file_counts_nothing(engine: Engine, catalogue: Catalogue, tmp_path: Path) -> None:
    assert read_counts_file(tmp_path / "counts.toml", catalogue) == ()


def test_a_bad_file_is_refused_by_entry_and_field(catalogue: Catalogue, tmp_path: Path) -> None:
    path = tmp_path / "counts.toml"
    path.write_text('[[counted]]\nfluid = "nope"\n', encoding="utf-8")
    with pytest.raises(EntryError, match=r"counted\[0\]\.fluid"):
        read_counts_file(path, catalogue)
    path.write_text("counted = [", encoding="utf-8")
    with pytest.raises(ValueError, match="TOML"):
        read_counts_file(path, catalogue)
