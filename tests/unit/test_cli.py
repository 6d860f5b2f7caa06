"""The command `ringside`, as someone types it."""

import json
import os
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from app.cli import main
from app.storage.database import head

POTASSIUM = {
    "name": "potassium",
    "value": 6.1,
    "unit": "mmol/L",
    "taken_at": "2031-03-04T05:00:00Z",
}
KCL_BAG = {
    "id": "o1",
    "fluid": "0.9% sodium chloride",
    "additives": [{"substance": "potassium chloride", "amount": 20, "unit": "mmol"}],
    "volume_ml": 1000,
    "rate_ml_h": 60,
    "duration_h": 16,
    "purpose": "replacement",
}
REQUEST: dict[str, Any] = {
    "now": "2031-03-04T07:00:00Z",
    "setting": "adult ward",
    "patient": {"age_years": 61, "sex": "female", "weight_kg": 70, "observations": [POTASSIUM]},
    "orders": [KCL_BAG],
}
CAUTION = "never replaces it"


@pytest.fixture(autouse=True)
def own_database(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    monkeypatch.setenv("RINGSIDE_DATABASE_URL", f"sqlite:///{tmp_path / 'var' / 'cli.db'}")
    monkeypatch.setenv("RINGSIDE_DEMO", "1")
    yield


def file_of(tmp_path: Path, content: object, name: str = "orders.json") -> str:
    path = tmp_path / name
    text = content if isinstance(content, str) else json.dumps(content)
    path.write_text(text, encoding="utf-8")
    return str(path)


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


def test_migrating_and_loading_tell_what_they_did_and_then_that_nothing_was_to_do(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["migrate"]) == 0
    assert f"None to {head()}" in capsys.readouterr().out
    assert main(["migrate"]) == 0
    assert capsys.readouterr().out == f"Database at {head()}.\n"
    assert main(["load"]) == 0
    first = capsys.readouterr().out
    assert "loaded: sodium-chloride-0.9.toml" in first
    assert "loaded: bed-24.toml" in first
    assert main(["load"]) == 0
    assert capsys.readouterr().out.startswith("0 loaded, 0 changed, ")
    assert main(["load", "--all"]) == 0
    assert "unchanged: bed-24.toml" in capsys.readouterr().out


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


CSV = """patient_no,order_no,fluid,rate,rate_unit,start
12,o1,0.9% sodium chloride,100,mL/h,2031-03-04 06:00
13,o1,20% albumin,25,mL/h,2031-03-04 06:00
"""


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


def test_the_seed_data_is_sound(capsys: pytest.CaptureFixture[str]) -> None:
    status = main(["check-data"])
    assert capsys.readouterr().out == "seed_data/ is sound\n"
    assert status == 0


def test_serving_an_unmigrated_database_says_what_to_do(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["serve"]) == 2
    assert "ringside migrate" in capsys.readouterr().err


def test_serving_on_an_open_address_is_refused_outside_demo_mode(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("RINGSIDE_DEMO", "0")
    assert main(["serve", "--host", "0.0.0.0"]) == 2
    assert "HOST: '0.0.0.0' is not accepted" in capsys.readouterr().err


OK = 200
TRIES = 300


def answered(address: str) -> int:
    """The status an address answers with, once it listens: the address is printed just before."""
    for _ in range(TRIES):
        try:
            with urllib.request.urlopen(address, timeout=30) as reply:
                return int(reply.status)
        except urllib.error.URLError:
            time.sleep(0.1)
    raise AssertionError(f"{address} never answered")


def test_a_served_unit_answers_at_the_address_printed() -> None:
    main(["migrate"])
    main(["load"])
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    served = subprocess.Popen(
        [sys.executable, "-c", "from app.cli import main; main()", "serve", "--port", str(port)],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env=dict(os.environ),
    )
    try:
        assert served.stdout is not None
        line = served.stdout.readline()
        assert line == f"Ringside: http://127.0.0.1:{port}\n"
        assert answered(f"http://127.0.0.1:{port}/healthz") == OK
    finally:
        served.send_signal(signal.SIGINT)
        said = served.communicate(timeout=30)[1]
    assert said == ""


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


def test_a_folder_that_cannot_be_written_to_leaves_with_2(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = file_of(tmp_path, REQUEST)
    assert main(["review", path, "--receipts", path]) == 2
    assert "FOLDER" in capsys.readouterr().err


INFUSION = {"fluid": "0.9% sodium chloride", "volume_ml": 1000, "duration_min": 60}
PREDICT = {"now": REQUEST["now"], "patient": REQUEST["patient"], "infusions": [INFUSION]}


def test_a_prediction_prints_figures_with_their_range_and_the_usual_caution(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["predict", file_of(tmp_path, PREDICT)]) == 0
    shown = capsys.readouterr().out
    assert "potassium, mmol/L: 0 min 6.10;" in shown
    assert "Assumed: " in shown
    assert CAUTION in shown


def test_a_prediction_as_json_is_that_of_the_outside_interface(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["predict", file_of(tmp_path, PREDICT), "--json"]) == 0
    reply = json.loads(capsys.readouterr().out)
    assert {"assumed", "times_min", "series", "interval"} <= set(reply)
    assert reply["infusions"][0]["fluid_id"] == "sodium-chloride-0.9"


@pytest.mark.parametrize(
    ("content", "told"),
    [
        ("fluid,rate\n", "FILE: "),
        ({"infusions": [{**INFUSION, "fluid": "albumin"}]}, "infusions[0].fluid: 'albumin'"),
        ({"infusions": [{**INFUSION, "volume_ml": 0}], "step_min": "x"}, "step_min: 'x'"),
    ],
)
def test_what_cannot_be_predicted_is_told_by_field_and_leaves_with_2(
    content: object, told: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["predict", file_of(tmp_path, content)]) == 2
    shown = capsys.readouterr()
    assert told in shown.err
    assert shown.out == ""


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
