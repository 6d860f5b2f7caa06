"""Anchors are kept as lines, and read back to the digit or refused."""

from datetime import UTC, datetime
from pathlib import Path

import pytest

from app.intake.errors import InputError
from app.storage.audit.anchors import (
    anchor_line,
    anchors_from,
    append_anchor,
    expected,
    read_anchors,
)
from app.storage.audit.chain import Head

AT = datetime(2031, 3, 4, 7, 5, 30, 250, tzinfo=UTC)
HASH = "0a" * 32
LINE = f"2031-03-04T07:05:30+00:00 rows 120 sha256 {HASH}"


def test_a_line_says_when_how_many_and_which_hash() -> None:
    assert anchor_line(Head(120, HASH, 0, ""), AT) == LINE


def test_an_empty_trail_has_nothing_to_keep() -> None:
    with pytest.raises(InputError, match="at least one act"):
        anchor_line(Head(0, "", 0, ""), AT)


def test_what_was_appended_is_read_back(tmp_path: Path) -> None:
    file = tmp_path / "anchors.txt"
    for line in (LINE, "", LINE.replace("120", "7")):
        append_anchor(file, line)
    first, second = read_anchors(file)
    assert (first.rows, first.sha256) == (120, HASH)
    assert second.rows == 7
    assert second.place == "anchors.txt, line 3 (2031-03-04T07:05:30+00:00)"


@pytest.mark.parametrize(
    "line", [LINE[:-1], LINE + "0", LINE.replace("120", "-1"), LINE.replace("0a", "0g"), "rows 1"]
)
def test_a_line_that_is_no_anchor_is_refused_with_its_place(line: str) -> None:
    with pytest.raises(InputError, match="kept, line 2"):
        anchors_from(f"{LINE}\n{line}\n", "kept")


@pytest.mark.parametrize("text", ["", "\n \n"])
def test_a_file_without_an_anchor_proves_nothing_and_is_refused(text: str) -> None:
    with pytest.raises(InputError, match="it has none"):
        anchors_from(text, "kept")


def test_files_that_cannot_be_read_or_written_are_told(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="FileNotFoundError"):
        read_anchors(tmp_path / "none.txt")
    (tmp_path / "binary").write_bytes(b"\xff\xfe\x00")
    with pytest.raises(InputError, match="UnicodeDecodeError"):
        read_anchors(tmp_path / "binary")
    with pytest.raises(InputError, match="can be written to"):
        append_anchor(tmp_path / "no folder" / "anchors.txt", LINE)


def test_a_hash_typed_is_taken_in_either_case() -> None:
    assert expected(f" {HASH.upper()} ").sha256 == HASH
    with pytest.raises(InputError, match="64 hexadecimal"):
        expected(HASH[:-1])
