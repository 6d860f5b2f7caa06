"""`ringside verify-audit` and `ringside audit-anchor`."""

import os
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from sqlalchemy import Engine, text

from app.cli import main
from app.storage.audit.trail import record
from app.storage.database import connect, transaction

AT = datetime(2031, 3, 4, 7, 5, tzinfo=UTC)
SECRET = "a secret of the ward's own"


@pytest.fixture
def engine(monkeypatch: pytest.MonkeyPatch) -> Iterator[Engine]:
    """A migrated database with three acts, written without a secret."""
    monkeypatch.delenv("RINGSIDE_SECRET", raising=False)
    main(["migrate"])
    engine = connect(os.environ["RINGSIDE_DATABASE_URL"])
    tell(engine, 3)
    yield engine
    engine.dispose()


def tell(engine: Engine, times: int) -> None:
    with transaction(engine) as session:
        for number in range(times):
            record(
                session, at=AT, who="x", account_id="x", act="told stock", subject=f"stock:{number}"
            )


def harm(engine: Engine, *statements: str) -> None:
    with transaction(engine) as session:
        for trigger in ("row_is_not_changed", "row_is_not_deleted", "head_only_moves_on"):
            session.execute(text(f"DROP TRIGGER trail_{trigger}"))
        for statement in statements:
            session.execute(text(statement))


CUT_AND_MENDED = (
    "DELETE FROM trail_row WHERE seq = 3",
    "UPDATE trail_head SET count = 2, last = (SELECT sha256 FROM trail_row WHERE seq = 2)",
)


def test_a_whole_trail_is_told_with_its_pace_and_what_is_not_ruled_out(
    engine: Engine, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["verify-audit"]) == 0
    out = capsys.readouterr().out
    assert "Whole: 3 rows checked" in out
    assert "rows a second" in out
    assert "for want of a secret" in out
    assert "not ruled out" in out


def test_an_edit_is_told_of_its_row(engine: Engine, capsys: pytest.CaptureFixture[str]) -> None:
    harm(engine, "UPDATE trail_row SET who = 'Nobody' WHERE seq = 2")
    assert main(["verify-audit"]) == 1
    out = capsys.readouterr().out
    assert "edited: row 2 is not what its hash was made from" in out
    assert "NOT whole" in out


def test_an_end_cut_off_and_mended_is_found_by_an_anchor_kept_elsewhere(
    engine: Engine, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    kept = tmp_path / "anchors.txt"
    assert main(["audit-anchor", "--append", str(kept)]) == 0
    line = capsys.readouterr().out
    assert kept.read_text() == line
    assert main(["verify-audit", "--anchors", str(kept)]) == 0
    harm(engine, *CUT_AND_MENDED)
    assert main(["verify-audit"]) == 0
    assert main(["verify-audit", "--anchors", str(kept)]) == 1
    assert "row 3 is gone" in capsys.readouterr().out
    assert main(["verify-audit", "--expect", line.split()[-1]]) == 1
    assert "no row has the hash" in capsys.readouterr().out


def test_an_end_cut_off_and_mended_is_found_by_the_seal(
    engine: Engine, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("RINGSIDE_SECRET", SECRET)
    assert main(["verify-audit"]) == 1
    assert "there is a secret and no seal" in capsys.readouterr().out
    assert main(["audit-anchor", "--seal-anew", "the secret was set today"]) == 0
    assert main(["verify-audit"]) == 0
    assert "sealed up to row 4" in capsys.readouterr().out
    harm(engine, "DELETE FROM trail_row WHERE seq > 2", CUT_AND_MENDED[1])
    assert main(["verify-audit"]) == 1
    assert "the seal speaks for 4 rows, and there are 2" in capsys.readouterr().out


def test_many_faults_are_told_in_part_and_counted(
    engine: Engine, capsys: pytest.CaptureFixture[str]
) -> None:
    tell(engine, 60)
    harm(engine, "UPDATE trail_row SET who = 'Nobody'")
    assert main(["verify-audit"]) == 1
    assert "and 23 more" in capsys.readouterr().out


@pytest.mark.parametrize(
    "asked",
    [
        ["verify-audit", "--expect", "12ab"],
        ["verify-audit", "--anchors", "no such file"],
        ["audit-anchor", "--seal-anew", "why"],
        ["audit-anchor", "--seal-anew", "there is no secret to seal with"],
        ["audit-anchor", "--append", "/no such folder/anchors.txt"],
    ],
)
def test_what_cannot_be_done_is_told_and_changes_nothing(
    engine: Engine, asked: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(asked) == 2
    assert "accepted" in capsys.readouterr().err
    main(["verify-audit"])
    assert "Whole: 3 rows" in capsys.readouterr().out


def test_an_empty_trail_is_whole_and_has_no_anchor(capsys: pytest.CaptureFixture[str]) -> None:
    main(["migrate"])
    assert main(["verify-audit"]) == 0
    assert main(["audit-anchor"]) == 2
    assert "at least one act" in capsys.readouterr().err


def test_a_lost_head_row_is_told(engine: Engine, capsys: pytest.CaptureFixture[str]) -> None:
    harm(engine, "DROP TRIGGER trail_head_is_not_deleted", "DELETE FROM trail_head")
    assert main(["verify-audit"]) == 1
    assert main(["audit-anchor"]) == 2
    assert "lost its head row" in capsys.readouterr().err


@pytest.mark.parametrize("command", ["verify-audit", "audit-anchor"])
def test_before_migrating_nothing_can_be_checked(
    command: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main([command]) == 2
    assert "ringside migrate" in capsys.readouterr().err
