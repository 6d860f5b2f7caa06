"""Receipts on disk: a folder of them, one, or a list."""

import json
from pathlib import Path

import pytest

from app.intake.errors import InputError
from app.storage.receipt_files import read_receipt_files, write_receipt_files


def test_a_folder_written_is_read_in_the_order_of_its_names(tmp_path: Path) -> None:
    folder = tmp_path / "shift" / "receipts"
    write_receipt_files(folder, {"b.json": '{"n": 2}\n', "a.json": '{"n": 1}\n'})
    read = read_receipt_files(folder)
    assert read.documents == (("a.json", {"n": 1}), ("b.json", {"n": 2}))
    assert read.whole
    assert not read.not_read


def test_one_file_is_one_receipt_and_claims_no_others(tmp_path: Path) -> None:
    write_receipt_files(tmp_path, {"a.json": '{"n": 1}'})
    read = read_receipt_files(tmp_path / "a.json")
    assert read.documents == (("a.json", {"n": 1}),)
    assert not read.whole


@pytest.mark.parametrize("text", ['[{"n": 1}, {"n": 2}]', '{"receipts": [{"n": 1}, {"n": 2}]}'])
def test_a_list_or_a_reply_holds_several(tmp_path: Path, text: str) -> None:
    write_receipt_files(tmp_path, {"reply.json": text})
    read = read_receipt_files(tmp_path / "reply.json")
    assert read.documents == (("reply.json[0]", {"n": 1}), ("reply.json[1]", {"n": 2}))
    assert read.whole


@pytest.mark.parametrize(
    "text",
    ["{", '{"level": "info", "level": "critical"}', '{"n": NaN}', '{"n": 1e999}', "[" * 100_000],
)
def test_what_a_person_and_a_program_might_read_differently_is_not_read(
    tmp_path: Path, text: str
) -> None:
    write_receipt_files(tmp_path, {"bad.json": text, "good.json": "{}"})
    read = read_receipt_files(tmp_path)
    assert [name for name, _ in read.documents] == ["good.json"]
    (told,) = read.not_read
    assert told.startswith("bad.json: ")


def test_nothing_to_read_is_told(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="FILE"):
        read_receipt_files(tmp_path)
    assert "none.json" in read_receipt_files(tmp_path / "none.json").not_read[0]


def test_a_folder_that_cannot_be_made_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text(json.dumps({}), encoding="utf-8")
    with pytest.raises(InputError, match="FOLDER"):
        write_receipt_files(tmp_path / "file", {"a.json": "{}"})
