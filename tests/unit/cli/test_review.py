"""`ringside review`."""

import json
from pathlib import Path

import pytest

from app.cli import main
from tests.unit.cli.files import CAUTION, CSV, KCL_BAG, REQUEST, file_of


def test_a_loud_review_prints_its_reasons_and_leaves_with_1(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["review", file_of(tmp_path, REQUEST)]) == 1
    shown = capsys.readouterr().out
    assert "CRITICAL: " in shown
    assert "why: " in shown
    assert "do: " in shown
    assert "source: " in shown
    assert CAUTION in shown


def test_a_quiet_review_leaves_with_0_and_still_shows_the_usual_caution(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["review", file_of(tmp_path, {**REQUEST, "orders": []})]) == 0
    shown = capsys.readouterr().out
    assert "none was reviewed" in shown
    assert CAUTION in shown


def test_the_json_reply_is_that_of_the_outside_interface(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["review", file_of(tmp_path, REQUEST), "--json"]) == 1
    reply = json.loads(capsys.readouterr().out)
    assert {"ruleset", "orders", "patient_findings", "totals"} <= set(reply)
    findings = reply["orders"][0]["findings"]
    assert "k-hyper" in {finding["rule_id"] for finding in findings}


@pytest.mark.parametrize(
    ("content", "name", "told"),
    [
        ("{not json", "orders.json", "FILE: '{not json' is not accepted; accepted: a JSON object"),
        ("[1, 2]", "orders.json", "FILE: 'list' is not accepted; accepted: a JSON object"),
        (
            {"resourceType": "Bundle", "entry": []},
            "bundle.json",
            "reading FHIR resources and Bundles is not in this release",
        ),
        (
            {**REQUEST, "orders": [{**KCL_BAG, "rate_ml_h": "12o"}]},
            "orders.json",
            "orders[0].rate_ml_h: '12o' is not accepted; accepted: a number",
        ),
        ({**REQUEST, "orders": [{**KCL_BAG, "rate_ml_h": -5}]}, "o.json", "orders[0].rate_ml_h"),
    ],
)
def test_what_cannot_be_read_is_told_on_the_error_stream_and_leaves_with_2(
    content: object, name: str, told: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["review", file_of(tmp_path, content, name)]) == 2
    shown = capsys.readouterr()
    assert told in shown.err
    assert shown.out == ""


def test_a_csv_is_reviewed_patient_by_patient(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["review", file_of(tmp_path, CSV, "orders.csv")]) in (0, 1)
    shown = capsys.readouterr().out
    assert shown.startswith("Patient 12\n")
    assert "\nPatient 13\n" in shown


def test_a_csv_gives_one_json_reply_a_patient(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    main(["review", file_of(tmp_path, CSV, "orders.csv"), "--json"])
    reviews = json.loads(capsys.readouterr().out)["reviews"]
    assert [review["patient_no"] for review in reviews] == ["12", "13"]
    assert reviews[1]["orders"][0]["fluid_id"] == "albumin-20"


def test_one_unreadable_row_is_told_the_others_are_reviewed_and_the_command_leaves_with_2(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = file_of(tmp_path, CSV.replace(",25,", ",fast,"), "orders.csv")
    assert main(["review", path]) == 2
    shown = capsys.readouterr()
    assert "Row 3, rate: 'fast' is not read" in shown.err
    assert "Patient 12" in shown.out


def test_a_csv_with_a_missing_column_is_told_which_and_what_is_accepted(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = file_of(tmp_path, CSV.replace("rate_unit", "per"), "orders.csv")
    assert main(["review", path]) == 2
    assert "rate_unit: " in capsys.readouterr().err


def test_every_unreadable_field_is_told_at_once(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    request = {"patient": {"weight_kg": -1}, "orders": [{"rate_ml_h": "fast"}]}
    assert main(["review", file_of(tmp_path, request)]) == 2
    lines = capsys.readouterr().err.splitlines()
    assert [line.split(":")[0] for line in lines] == ["patient.weight_kg", "orders[0].rate_ml_h"]


def test_a_missing_file_is_told_by_name(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["review", str(tmp_path / "none.json")]) == 2
    assert "none.json" in capsys.readouterr().err


def test_a_folder_that_cannot_be_written_to_leaves_with_2(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = file_of(tmp_path, REQUEST)
    assert main(["review", path, "--receipts", path]) == 2
    assert "FOLDER" in capsys.readouterr().err
