"""A prediction as lines for a person."""

import json

from app.review.predict.as_text import SHOWN, USUAL_CAUTION, as_json, lines_of, note_line
from app.review.predict.notes import Note
from tests.unit.review.predict.conftest import SALINE, Predict


def test_figures_come_with_their_range_doubts_and_the_usual_caution(reckon: Predict) -> None:
    patient = {"weight_kg": 70, "urine_ml_h": 30, "conditions": ["blorf"]}
    lines = list(lines_of(reckon(SALINE, patient=patient)))
    assert lines[0].endswith("1000 mL over 60 min from minute 0")
    assert "Lost: urine 30 mL/h, sodium 100 mmol/L, potassium 40 mmol/L" in lines
    (sodium,) = [line for line in lines if line.startswith("sodium, mmol/L: 0 min 140.0")]
    assert sodium.count(" to ") == 4
    assert any(line.startswith("Assumed: potassium 4.2 mmol/L") for line in lines)
    assert any(line.startswith("Not modelled: ") for line in lines)
    assert any(line.startswith("Note: patient.conditions “blorf”") for line in lines)
    assert lines[-1] == USUAL_CAUTION


def test_every_series_has_a_line(reckon: Predict) -> None:
    assert set(reckon(SALINE, horizon_min=1).course.series) == set(SHOWN)


def test_a_single_step_shows_both_its_ends(reckon: Predict) -> None:
    lines = list(lines_of(reckon(SALINE, horizon_min=60, step_min=60)))
    (ph,) = [line for line in lines if line.startswith("pH: ")]
    assert "0 min" in ph
    assert "60 min" in ph


def test_a_note_on_nothing_written_has_no_quotes() -> None:
    assert note_line(Note("infusions[0]", "", "So.")) == "Note: infusions[0]: So."


def test_the_json_is_the_reply(reckon: Predict) -> None:
    assert json.loads(as_json(reckon(SALINE)))["infusions"][0]["volume_ml"] == 1000
