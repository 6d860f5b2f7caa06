"""A release adds what it says; what was approved here stays, and where they differ is told."""

import shutil
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from sqlalchemy import Engine, select

from app.catalogue.changes.change import FluidEntry
from app.catalogue.document import document_of
from app.review.knowledge import shipped
from app.storage.audit.tables import TrailRow
from app.storage.changes.release import Told, outcome_of, seed_fluids
from app.storage.changes.versions import read_versions
from app.storage.database import reading, transaction
from app.storage.fluids import read_catalogue
from app.storage.seed_files import SEED_DATA
from tests.changing import in_force

NOW = datetime(2026, 2, 1, tzinfo=UTC)
DAY = timedelta(days=1)
FILE = "lactated-ringers.toml"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Two fluids of the release, that may be edited."""
    for name in (FILE, "dextrose-5.toml"):
        shutil.copy(SEED_DATA / "fluids" / name, tmp_path / name)
    return tmp_path


@pytest.fixture
def loaded(engine: Engine, folder: Path) -> Engine:
    load(engine, folder)
    return engine


def load(engine: Engine, folder: Path, days: int = 0) -> list[str]:
    with transaction(engine) as session:
        return [str(one) for one in seed_fluids(session, now=NOW + days * DAY, folder=folder)]


def edit(folder: Path, old: str, new: str) -> None:
    text = (folder / FILE).read_text(encoding="utf-8")
    assert old in text
    (folder / FILE).write_text(text.replace(old, new, 1), encoding="utf-8")


def ours(note: str = "As our label has it.") -> FluidEntry:
    fluid = shipped().catalogue.get("lactated-ringers")
    assert fluid is not None
    return FluidEntry(fluid.id, {**document_of(fluid), "note": note})


def note_at(engine: Engine, days: float) -> str | None:
    with reading(engine) as session:
        fluid = read_catalogue(session, NOW + days * DAY).get("lactated-ringers")
    return None if fluid is None else fluid.note


def test_a_new_release_adds_a_version_and_the_old_one_is_still_what_counted(
    loaded: Engine, folder: Path
) -> None:
    edit(folder, 'note = "Calcium', 'note = "New. Calcium')
    assert load(loaded, folder, 3) == ["unchanged: dextrose-5.toml", f"changed: {FILE}"]
    assert (note_at(loaded, 1) or "").startswith("Calcium")
    assert (note_at(loaded, 3) or "").startswith("New.")
    with reading(loaded) as session:
        assert len(read_versions(session)) == 3


def test_an_entry_approved_here_is_kept_and_the_difference_is_told(
    loaded: Engine, folder: Path
) -> None:
    in_force(loaded, ours(), NOW + DAY)
    edit(folder, "osmolarity_labelled_mosm_l = 273", "osmolarity_labelled_mosm_l = 274")
    (kept,) = [line for line in load(loaded, folder, 3) if line.startswith("kept")]
    assert "as approved here by change 1; the release says" in kept
    assert "osmolarity on the label, mOsm/L 274, here 273" in kept
    assert "note Calcium" in kept
    assert note_at(loaded, 4) == "As our label has it."


def test_a_release_that_takes_a_fluid_out_does_not_take_ours_out(
    loaded: Engine, folder: Path
) -> None:
    in_force(loaded, ours(), NOW + DAY)
    (folder / FILE).unlink()
    told = load(loaded, folder, 3)
    assert any(line.startswith(f"kept: {FILE}") and "not in the catalogue" in line for line in told)
    assert note_at(loaded, 4) == "As our label has it."


def test_a_fluid_that_comes_back_is_loaded_again(loaded: Engine, folder: Path) -> None:
    text = (folder / FILE).read_text(encoding="utf-8")
    (folder / FILE).unlink()
    assert f"removed: {FILE}" in load(loaded, folder, 1)
    assert note_at(loaded, 1) is None
    assert load(loaded, folder, 2) == ["unchanged: dextrose-5.toml"]
    (folder / FILE).write_text(text, encoding="utf-8")
    assert f"loaded: {FILE}" in load(loaded, folder, 3)
    assert note_at(loaded, 3) is not None


def test_a_release_that_comes_to_say_the_same_as_we_do_is_told_as_that(
    loaded: Engine, folder: Path
) -> None:
    in_force(loaded, ours("Ours."), NOW + DAY)
    whole = (folder / FILE).read_text(encoding="utf-8")
    start = whole.index('note = "Calcium')
    line = whole[start : whole.index("\n", start)]
    edit(folder, line, 'note = "Ours."')
    assert any("now says the same as change 1" in one for one in load(loaded, folder, 3))


def test_every_version_that_a_release_brings_is_in_the_trail(loaded: Engine, folder: Path) -> None:
    edit(folder, "osmolarity_labelled_mosm_l = 273", "osmolarity_labelled_mosm_l = 274")
    load(loaded, folder, 3)
    with reading(loaded) as session:
        rows = session.execute(select(TrailRow.subject, TrailRow.act, TrailRow.before)).all()
    assert [(subject, act) for subject, act, _ in rows] == [
        ("fluid:dextrose-5", "load-release"),
        ("fluid:lactated-ringers", "load-release"),
        ("fluid:lactated-ringers", "load-release"),
    ]
    assert rows[0].before is None and "273" in rows[2].before


def test_what_became_of_a_file_is_one_line() -> None:
    assert str(Told("kept", "a.toml", "why")) == "kept: a.toml: why"
    assert [outcome_of(None, "x"), outcome_of("x", "x"), outcome_of("y", "x")] == [
        "loaded", "unchanged", "changed",
    ]  # fmt: skip
