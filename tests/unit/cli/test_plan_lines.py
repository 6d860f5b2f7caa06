"""`ringside plan-lines`."""

import json
from pathlib import Path
from typing import Any

import pytest

from app.cli import main
from tests.unit.cli.files import CAUTION, file_of

LINES: dict[str, Any] = {
    "lumens": [{"id": "p1", "site": "peripheral"}],
    "infusions": [
        {"id": "lr", "name": "lactated Ringer's", "kind": "continuous", "may_pause": True},
        {"id": "cef", "name": "ceftriaxone", "kind": "intermittent", "duration_min": 30},
    ],
    "use_catalogue": True,
}


def test_a_line_plan_prints_what_to_do_by_the_clock_and_the_usual_caution(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["plan-lines", file_of(tmp_path, LINES)]) == 0
    shown = capsys.readouterr().out
    assert "The lumens given suffice: 1 interruption, 30 min in all; proven best." in shown
    assert "0:30  p1  End of ceftriaxone." in shown
    assert CAUTION in shown


def test_lumens_that_do_not_suffice_leave_with_1(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    runs_on = {**LINES["infusions"][0], "may_pause": False}
    short = {**LINES, "infusions": [runs_on, LINES["infusions"][1]]}
    assert main(["plan-lines", file_of(tmp_path, short), "--json"]) == 1
    reply = json.loads(capsys.readouterr().out)
    assert reply["why_not"]["clash"] == ["lr", "cef"]


def test_a_line_plan_that_cannot_be_read_is_told_by_field_and_leaves_with_2(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["plan-lines", file_of(tmp_path, {**LINES, "lumens": []})]) == 2
    shown = capsys.readouterr()
    assert "lumens: '0 entries' is not accepted" in shown.err
    assert shown.out == ""
