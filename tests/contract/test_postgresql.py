"""Every migration can be put in PostgreSQL's words, with what refuses changes there."""

import importlib.util
import io
import re
from pathlib import Path
from types import ModuleType

import pytest
from alembic.operations import Operations
from alembic.runtime.migration import MigrationContext

MIGRATIONS = sorted((Path(__file__).resolve().parents[2] / "migrations/versions").glob("*.py"))

# These read rows on their way, so that there is no text of them without a database.
READ_ROWS = ("0008",)


def module(path: Path) -> ModuleType:
    spec = importlib.util.spec_from_file_location(path.stem, path)
    assert spec is not None
    assert spec.loader is not None
    made = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(made)
    return made


def compiled(path: Path, way: str) -> str:
    words = io.StringIO()
    context = MigrationContext.configure(
        dialect_name="postgresql", opts={"as_sql": True, "output_buffer": words}
    )
    with Operations.context(context):
        getattr(module(path), way)()
    return words.getvalue()


@pytest.mark.parametrize(
    "path",
    [path for path in MIGRATIONS if not path.stem.startswith(READ_ROWS)],
    ids=lambda path: path.stem[:4],
)
def test_a_migration_and_its_way_back_compile(path: Path) -> None:
    assert re.search("(CREATE|ALTER) TABLE", compiled(path, "upgrade"))
    assert re.search("DROP (TABLE|COLUMN)", compiled(path, "downgrade"))


def test_the_trail_is_guarded_there_too() -> None:
    (path,) = (path for path in MIGRATIONS if path.stem.startswith("0006"))
    words = compiled(path, "upgrade")
    assert "BEFORE UPDATE OR DELETE OR TRUNCATE ON trail_row" in words
    assert "BEFORE DELETE OR TRUNCATE ON trail_head" in words
    assert "WHEN (NEW.id <> OLD.id OR NEW.count <> OLD.count + 1)" in words
    assert "INSERT INTO trail_head" in words
    assert "DROP FUNCTION trail_refuses()" in compiled(path, "downgrade")
