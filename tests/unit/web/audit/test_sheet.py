"""A file runs nothing in a spreadsheet, and holds every act to the digit."""

import csv
import io
import json
from dataclasses import replace
from datetime import UTC, datetime

import pytest

from app.storage.audit.chain import Link, document_text, hash_of
from app.web.audit.sheet import COLUMNS, acts_csv, acts_json_lines, cell, csv_lines

LINK = Link(
    1, datetime(2031, 3, 4, 7, 5, 0, 250, tzinfo=UTC), "=cmd|' /C calc'!A0", "+x", "-act", "@s",
    None, document_text({"note": "a,\"b\"\nc", "rate": 60.5}), "",
)  # fmt: skip


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@x", "\t=1", "\r=1", "  =1", "＝1", "\n=1"])
def test_what_a_spreadsheet_would_run_begins_with_a_mark(text: str) -> None:
    assert cell(text) == f"'{text}"


@pytest.mark.parametrize("text", ["", "L. Novák", "5.5", "a=b", "'x"])
def test_other_text_stays_as_it_is(text: str) -> None:
    assert cell(text) == text


def test_acts_as_csv_have_a_header_and_every_column() -> None:
    (row,) = csv.DictReader(io.StringIO("".join(acts_csv([LINK])), newline=""))
    assert tuple(row) == COLUMNS
    assert row["seq"] == "1"
    assert row["who"] == "'=cmd|' /C calc'!A0"
    assert [row[name][0] for name in ("account_id", "act", "subject")] == ["'"] * 3
    assert json.loads(row["after"]) == {"note": 'a,"b"\nc', "rate": 60.5}


def test_acts_as_json_lines_can_be_hashed_again_elsewhere() -> None:
    link = replace(LINK, sha256=hash_of(LINK))
    (line,) = acts_json_lines([link])
    assert line.count("\n") == 1
    row = json.loads(line)
    again = Link(
        row["seq"], datetime.fromisoformat(row["at"]), row["who"], row["account_id"], row["act"],
        row["subject"], document_text(row["before"]), document_text(row["after"]), row["previous"],
    )  # fmt: skip
    assert hash_of(again) == row["sha256"] == link.sha256


def test_a_document_edited_into_no_json_stays_in_the_file() -> None:
    (line,) = acts_json_lines([replace(LINK, after="{oops")])
    assert json.loads(line)["after"] == "{oops"


def test_numbers_are_no_text_and_need_no_mark() -> None:
    assert list(csv_lines(("a", "b"), [(-1, "-1")]))[1] == "-1,'-1\r\n"
