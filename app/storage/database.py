"""The engine, one transaction at a time, and the state of the tables."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, Final

from alembic import command
from alembic.config import Config
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Connection, Engine, create_engine, event, make_url, text
from sqlalchemy.orm import Session

from app.storage.audit.chain import key_of

MIGRATIONS: Final = Path(__file__).resolve().parents[2] / "migrations"
BUSY_TIMEOUT_MS: Final = 5000
PRAGMAS: Final = (
    "journal_mode=WAL",
    "foreign_keys=ON",
    f"busy_timeout={BUSY_TIMEOUT_MS}",
    "synchronous=NORMAL",
)
FOR_WRITING: Final = "for_writing"
TRAIL_KEY: Final = "trail_key"


def connect(url: str, *, secret: str = "") -> Engine:
    """An engine for this address; an SQLite file's folder is made when it is missing.

    secret: seals the trail of what is written through it; without one the seal is left as it is.
    """
    address = make_url(url)
    # A fault's text goes into the server's log: no value, which may be a patient's, stands in it.
    engine = create_engine(
        address, execution_options={TRAIL_KEY: key_of(secret)}, hide_parameters=True
    )
    if address.get_backend_name() == "sqlite":
        if address.database and address.database != ":memory:":
            # Nobody else on this machine reads patients out of a folder that we made.
            Path(address.database).parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        event.listen(engine, "connect", _set_pragmas)
        event.listen(engine, "begin", _begin)
    return engine


def _set_pragmas(connection: Any, _record: object) -> None:  # noqa: ANN401 - the driver's own
    connection.isolation_level = None  # the driver's own BEGIN comes too late for a read
    cursor = connection.cursor()
    for pragma in PRAGMAS:
        cursor.execute(f"PRAGMA {pragma}")
    cursor.close()


def _begin(connection: Connection) -> None:
    """Take SQLite's write lock at the start, so that a busy database waits instead of failing."""
    writes = connection.get_execution_options().get(FOR_WRITING, False)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")


@contextmanager
def transaction(engine: Engine) -> Iterator[Session]:
    """A session that writes: all of it is kept, or nothing when an exception passes."""
    writing = engine.execution_options(**{FOR_WRITING: True})
    with Session(writing, expire_on_commit=False) as session, session.begin():
        yield session


@contextmanager
def reading(engine: Engine) -> Iterator[Session]:
    """A session that reads one consistent state."""
    with Session(engine, expire_on_commit=False) as session:
        yield session


def answers(engine: Engine) -> bool:
    """Whether the database answers at all."""
    with engine.connect() as connection:
        return bool(connection.scalar(text("SELECT 1")))


def migration_config(connection: Connection | None = None) -> Config:
    """Alembic's configuration, in code: where the migrations are, and the connection to use."""
    config = Config()
    config.set_main_option("script_location", str(MIGRATIONS).replace("%", "%%"))
    config.set_main_option("path_separator", "os")
    config.attributes["connection"] = connection
    return config


def head() -> str | None:
    """The newest migration."""
    return ScriptDirectory.from_config(migration_config()).get_current_head()


def current(engine: Engine) -> str | None:
    """The migration the database is at; None when it is empty."""
    with engine.connect() as connection:
        return MigrationContext.configure(connection).get_current_revision()


def migrate(engine: Engine) -> tuple[str | None, str | None]:
    """Bring the tables to the newest migration; returns where they were and where they are."""
    before = current(engine)
    writing = engine.execution_options(**{FOR_WRITING: True})
    with writing.begin() as connection:
        command.upgrade(migration_config(connection), "head")
    return before, current(engine)
