"""`ringside predict`."""

import json
from pathlib import Path

import pytest

from app.cli import main
from tests.unit.cli.files import CAUTION, REQUEST, file_of

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
