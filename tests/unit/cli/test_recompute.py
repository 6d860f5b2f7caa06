"""`ringside recompute`."""

import json
from pathlib import Path

import pytest

from app.cli import main
from tests.unit.cli.files import CSV, REQUEST, file_of


def receipts_of(tmp_path: Path, request: object = REQUEST, name: str = "orders.json") -> Path:
    folder = tmp_path / "receipts"
    main(["review", file_of(tmp_path, request, name), "--receipts", str(folder)])
    return folder


def test_receipts_are_written_and_made_again_the_same(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = receipts_of(tmp_path)
    written = sorted(folder.iterdir())
    assert any(path.name.endswith("-k-hyper.json") for path in written)
    capsys.readouterr()
    assert main(["recompute", str(folder)]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines == [f"{path.name}: same to the digit" for path in written]
    assert main(["recompute", str(written[1])]) == 0


def test_an_edited_receipt_leaves_with_1(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = sorted(receipts_of(tmp_path).iterdir())[0]
    path.write_text(path.read_text("utf-8").replace("6.1", "5.1"), encoding="utf-8")
    assert main(["recompute", str(path)]) == 1
    assert "its hash does not fit: edited" in capsys.readouterr().out


def test_a_receipt_taken_away_leaves_with_1(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = receipts_of(tmp_path)
    sorted(folder.iterdir())[0].unlink()
    assert main(["recompute", str(folder)]) == 1
    assert "receipts are not here" in capsys.readouterr().out


@pytest.mark.parametrize("text", ["{not json", "[1]", '{"schema": "another"}', "{}"])
def test_what_is_no_receipt_leaves_with_2(
    tmp_path: Path, text: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["recompute", file_of(tmp_path, text, "r.json")]) == 2
    assert capsys.readouterr().err
    assert main(["recompute", str(tmp_path / "none.json")]) == 2


def test_receipts_of_a_csv_name_its_patients(tmp_path: Path) -> None:
    folder = receipts_of(tmp_path, CSV.replace(",25,", ",2500,"), "orders.csv")
    about = [json.loads(path.read_text("utf-8"))["about"] for path in folder.iterdir()]
    assert {"patient_no": "13"} in about
    assert main(["recompute", str(folder)]) == 0
