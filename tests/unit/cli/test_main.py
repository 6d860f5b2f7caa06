"""The command line as a whole."""

import pytest

from app.cli import main


def test_help_lists_what_works_and_nothing_else(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as left:
        main(["--help"])
    assert left.value.code == 0
    shown = capsys.readouterr().out
    assert all(
        name in shown for name in ("serve", "load", "review", "predict", "plan-lines", "recompute")
    )
    assert not any(name in shown for name in ("backup", "restore"))


def test_no_command_is_told_how_to_go_on(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as left:
        main([])
    assert left.value.code == 2
    assert "COMMAND" in capsys.readouterr().err


def test_a_wrong_setting_is_told_by_name(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("RINGSIDE_DEMO", "maybe")
    assert main(["migrate"]) == 2
    assert "RINGSIDE_DEMO: 'maybe' is not accepted; accepted: 1 or 0" in capsys.readouterr().err
