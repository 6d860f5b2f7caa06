"""The database keeps what it says it keeps, and knows which migration it is at."""

import re
import subprocess
import sys
from collections.abc import Iterator
from datetime import UTC, date, datetime
from pathlib import Path

import pytest
from alembic import command
from alembic.autogenerate import compare_metadata
from alembic.runtime.migration import MigrationContext
from sqlalchemy import Engine, func, inspect, select, text
from sqlalchemy.exc import IntegrityError

from app.storage.database import (
    MIGRATIONS,
    answers,
    connect,
    current,
    head,
    migrate,
    migration_config,
    reading,
    transaction,
)
from app.storage.tables import Base, LumenRow, PairNoteRow, SeedRunRow

NOW = datetime(2031, 3, 4, 7, 0, tzinfo=UTC)


@pytest.fixture
def empty(tmp_path: Path) -> Iterator[Engine]:
    made = connect(f"sqlite:///{tmp_path / 'folder' / 'not yet' / 'there.db'}")
    yield made
    made.dispose()


def test_a_folder_that_is_made_is_open_to_its_owner_alone(tmp_path: Path) -> None:
    connect(f"sqlite:///{tmp_path / 'made' / 'unit.db'}").dispose()
    assert (tmp_path / "made").stat().st_mode & 0o077 == 0


def test_a_missing_folder_is_made(empty: Engine) -> None:
    assert answers(empty)


def test_an_empty_database_is_at_no_migration(empty: Engine) -> None:
    assert current(empty) is None


def test_migrating_goes_from_nothing_to_the_newest_and_then_stays(empty: Engine) -> None:
    assert migrate(empty) == (None, head())
    assert migrate(empty) == (head(), head())


def test_the_newest_migration_makes_exactly_the_tables_the_code_knows(engine: Engine) -> None:
    with engine.connect() as connection:
        context = MigrationContext.configure(connection)
        assert compare_metadata(context, Base.metadata) == []


def test_a_migration_imports_nothing_of_ours_so_that_it_never_changes_its_meaning() -> None:
    for path in (MIGRATIONS / "versions").glob("*.py"):
        assert not re.search(r"^\s*(from|import) app\b", path.read_text(encoding="utf-8"), re.M)


def test_sqlite_waits_when_busy_keeps_a_log_and_checks_references(engine: Engine) -> None:
    with engine.connect() as connection:
        told = {
            name: connection.execute(text(f"PRAGMA {name}")).scalar_one()
            for name in ("journal_mode", "foreign_keys", "busy_timeout", "synchronous")
        }
    assert told == {
        "journal_mode": "wal",
        "foreign_keys": 1,
        "busy_timeout": 5000,
        "synchronous": 1,
    }


def test_a_lumen_of_nobody_is_refused(engine: Engine) -> None:
    with pytest.raises(IntegrityError), transaction(engine) as session:
        session.add(LumenRow(patient_id="nobody", name="left forearm", site="peripheral"))


def test_nothing_is_kept_of_a_transaction_that_fails(engine: Engine) -> None:
    with pytest.raises(RuntimeError), transaction(engine) as session:
        session.add(SeedRunRow(at=NOW, told=["loaded: a.toml"]))
        session.flush()
        raise RuntimeError
    with reading(engine) as session:
        assert session.scalar(select(func.count()).select_from(SeedRunRow)) == 0


def test_a_reader_sees_one_state_while_another_writes(engine: Engine) -> None:
    count = select(func.count()).select_from(SeedRunRow)
    with reading(engine) as reader:
        before = reader.scalar(count)
        with transaction(engine) as writer:
            writer.add(SeedRunRow(at=NOW, told=[]))
        assert reader.scalar(count) == before
    with reading(engine) as reader:
        assert reader.scalar(count) == 1


def test_a_writer_takes_the_lock_at_once_so_that_the_next_one_waits(tmp_path: Path) -> None:
    engine = connect(f"sqlite:///{tmp_path / 'busy.db'}")
    migrate(engine)
    impatient = (
        "import sqlite3, sys; sqlite3.connect(sys.argv[1], timeout=0).execute('BEGIN IMMEDIATE')"
    )
    with transaction(engine) as session:
        session.scalar(select(PairNoteRow.id))
        tried = subprocess.run(
            [sys.executable, "-c", impatient, str(tmp_path / "busy.db")],
            capture_output=True,
            text=True,
            check=False,
        )
    engine.dispose()
    assert "database is locked" in tried.stderr


def test_a_time_comes_back_as_the_same_moment_with_a_zone(engine: Engine) -> None:
    written = datetime.fromisoformat("2031-03-04T09:30:00+02:30")
    with transaction(engine) as session:
        session.add(SeedRunRow(at=written, told=[]))
    with reading(engine) as session:
        read = session.scalars(select(SeedRunRow.at)).one()
    assert read == NOW
    assert read.tzinfo is not None


def test_a_day_is_a_day(engine: Engine) -> None:
    row = PairNoteRow(
        a="dextrose-5", b="ceftriaxone", text="seen clear", conditions="any", by="J.B.",
        role="pharmacist", signed_at=NOW, review_on=date(2031, 3, 1),
    )  # fmt: skip
    with transaction(engine) as session:
        session.add(row)
    with reading(engine) as session:
        assert session.scalars(select(PairNoteRow.review_on)).one() == date(2031, 3, 1)


def test_every_migration_can_be_taken_back(engine: Engine) -> None:
    with engine.begin() as connection:
        command.downgrade(migration_config(connection), "base")
    assert current(engine) is None
    assert inspect(engine).get_table_names() == ["alembic_version"]


def test_a_fault_of_the_database_tells_no_value(engine: Engine) -> None:
    with pytest.raises(IntegrityError) as caught, transaction(engine) as session:
        session.add(LumenRow(patient_id="nobody of ours", name="arm", site="peripheral"))
    assert "INSERT INTO" in str(caught.value)
    assert "nobody of ours" not in str(caught.value)
