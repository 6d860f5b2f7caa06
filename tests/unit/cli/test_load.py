"""`ringside load`."""

import pytest

from app.cli import main


def test_loading_before_migrating_says_what_to_do(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["load"]) == 2
    assert "ringside migrate" in capsys.readouterr().err


def test_without_demo_mode_no_bed_is_loaded(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.delenv("RINGSIDE_DEMO")
    main(["migrate"])
    main(["load"])
    assert "bed-" not in capsys.readouterr().out


def test_the_demo_units_people_are_made_once_and_outside_demo_mode_never(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    main(["migrate"])
    monkeypatch.setenv("RINGSIDE_DEMO", "0")
    main(["load"])
    assert "sign-ins" not in capsys.readouterr().out
    monkeypatch.setenv("RINGSIDE_DEMO", "1")
    main(["load"])
    assert "Demo sign-ins made: nurse, prescriber, educator, pharm" in capsys.readouterr().out
    main(["load"])
    assert "sign-ins" not in capsys.readouterr().out
