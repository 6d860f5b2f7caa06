"""What commands share."""

from pathlib import Path

import pytest

from app.cli.parts import NotMigrated, migrated_database, unreadable
from app.intake.errors import InputError, InputErrors
from app.settings import Settings
from app.storage.database import connect, migrate

ONE = InputError("rate_ml_h", "12o", "a number")
TWO = InputError("volume_ml", "-", "a number")


def test_every_fault_of_a_file_is_a_line_of_its_own(capsys: pytest.CaptureFixture[str]) -> None:
    assert unreadable(InputErrors((ONE, TWO))) == 2
    shown = capsys.readouterr()
    assert [line.split(":")[0] for line in shown.err.splitlines()] == ["rate_ml_h", "volume_ml"]
    assert shown.out == ""


def test_a_database_of_another_release_is_not_opened(tmp_path: Path) -> None:
    settings = Settings(database_url=f"sqlite:///{tmp_path / 'x.db'}")
    with pytest.raises(NotMigrated), migrated_database(settings):
        raise AssertionError("opened")
    engine = connect(settings.database_url)
    migrate(engine)
    engine.dispose()
    with migrated_database(settings) as opened, opened.connect() as connection:
        assert not connection.closed
