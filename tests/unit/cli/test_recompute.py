"""`ringside recompute`."""

import json
from datetime import timedelta
from pathlib import Path

import pytest

from app.catalogue.changes.change import RuleSwitch
from app.cli import main
from app.storage.database import connect, migrate, transaction
from app.storage.seed import seed
from tests.changing import in_force
from tests.conftest import LOADED
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


def test_a_receipt_of_before_a_limit_was_changed_is_made_again_with_what_counted_then(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    url = f"sqlite:///{tmp_path / 'unit.db'}"
    engine = connect(url)
    migrate(engine)
    with transaction(engine) as session:
        seed(session, now=LOADED, demo=False)
    monkeypatch.setenv("RINGSIDE_DATABASE_URL", url)
    folder = receipts_of(tmp_path)
    in_force(engine, RuleSwitch("k-hyper", on=False), LOADED + timedelta(days=1))
    engine.dispose()
    capsys.readouterr()
    assert main(["recompute", str(folder)]) == 0
    lines = capsys.readouterr().out.splitlines()
    told = "same to the digit, with the fluids and limits that were in force then"
    assert lines == [f"{path.name}: {told}" for path in sorted(folder.iterdir())]


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
