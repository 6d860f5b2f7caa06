"""Where a prediction starts from, and what is said of it."""

from typing import Any

import pytest

from app.review.predict.notes import starting_values
from app.review.predict.predict import Prediction
from tests.unit.review.predict.conftest import ADULT, Ask, Predict


def potassium(value: float, taken_at: str | None, **more: object) -> dict[str, Any]:
    return {"name": "potassium", "value": value, "unit": "mmol/L", "taken_at": taken_at, **more}


def with_results(*results: dict[str, Any]) -> dict[str, Any]:
    return {**ADULT, "observations": list(results)}


def test_the_newest_result_is_the_start(ask: Ask) -> None:
    old, new = potassium(5.9, "2031-03-03T19:00:00Z"), potassium(4.4, "2031-03-04T05:00:00Z")
    asked = ask(patient=with_results(old, new))
    assert starting_values(asked.patient)["potassium"] == 4.4
    assert not asked.notes


def test_an_old_result_is_nearer_than_a_usual_one_and_its_age_is_said(ask: Ask) -> None:
    asked = ask(patient=with_results(potassium(5.9, "2031-03-02T07:00:00Z")))
    assert starting_values(asked.patient)["potassium"] == 5.9
    assert "2 days old" in asked.notes[0].text


def test_of_two_results_without_a_time_that_differ_one_is_used_and_that_is_said(ask: Ask) -> None:
    asked = ask(patient=with_results(potassium(5.9, None), potassium(4.4, None)))
    assert starting_values(asked.patient)["potassium"] == 5.9
    (note,) = asked.notes
    assert note.written == "4.4 mmol/L" and "5.9 mmol/L, is" in note.text


def test_of_two_results_of_one_moment_that_differ_none_is_used_and_that_is_said(ask: Ask) -> None:
    at = "2031-03-04T05:00:00Z"
    asked = ask(patient=with_results(potassium(5.9, at), potassium(4.4, at)))
    assert "potassium" not in starting_values(asked.patient)
    assert "which is right?" in asked.notes[0].text


def test_one_result_sent_twice_is_one(ask: Ask) -> None:
    assert not ask(patient=with_results(potassium(5.9, None), potassium(5.9, None))).notes


def test_a_result_of_last_month_is_not_used_and_that_is_said(ask: Ask) -> None:
    asked = ask(patient=with_results(potassium(5.9, "2031-02-02T07:00:00Z")))
    assert "potassium" not in starting_values(asked.patient)
    assert asked.notes[0].text.startswith("Not used")


def test_a_spoilt_sample_is_no_start_and_that_is_said(ask: Ask) -> None:
    older = potassium(4.4, "2031-03-04T03:00:00Z")
    spoilt = potassium(7.9, "2031-03-04T06:00:00Z", comment="haemolysed")
    asked = ask(patient=with_results(older, spoilt))
    assert starting_values(asked.patient)["potassium"] == 4.4
    assert "haemolysed" in asked.notes[0].text


def test_total_carbon_dioxide_stands_in_for_bicarbonate_and_that_is_said(ask: Ask) -> None:
    asked = ask(patient=with_results({"name": "total CO2", "value": 20, "unit": "mmol/L"}))
    assert starting_values(asked.patient)["bicarbonate"] == 20
    assert any("taken as bicarbonate" in note.text for note in asked.notes)


def gas(name: str, value: float, taken_at: str | None) -> dict[str, Any]:
    return {"name": name, "value": value, "unit": "1" if name == "ph" else None,
            "taken_at": taken_at}  # fmt: skip


def test_a_figure_of_an_earlier_gas_is_not_put_together_with_a_later_one(ask: Ask) -> None:
    now, before = "2031-03-04T06:00:00Z", "2031-03-03T20:00:00Z"
    pco2 = {"name": "pco2", "value": 30, "unit": "mmHg", "taken_at": before}
    asked = ask(patient=with_results(gas("ph", 7.2, now), pco2))
    assert "pco2" not in starting_values(asked.patient)
    assert any("of an earlier gas" in note.text for note in asked.notes)
    together = ask(patient=with_results(gas("ph", 7.2, now), {**pco2, "taken_at": now}))
    assert starting_values(together.patient)["pco2"] == 30
    untimed = ask(patient=with_results(gas("ph", 7.2, None), {**pco2, "taken_at": None}))
    assert starting_values(untimed.patient)["pco2"] == 30


def test_words_not_understood_and_drugs_are_said(ask: Ask) -> None:
    told = {**ADULT, "conditions": ["blorf"], "medications": ["furosemide"]}
    fields = {note.field: note.written for note in ask(patient=told).notes}
    assert fields == {"patient.conditions": "blorf", "patient.medications": "furosemide"}


def test_a_converted_result_says_how(ask: Ask) -> None:
    asked = ask(patient=with_results({"name": "glucose", "value": 180, "unit": "mg/dL"}))
    assert "read as" in asked.notes[0].text


def test_total_carbon_dioxide_is_not_needed_beside_a_gas(ask: Ask) -> None:
    total = {"name": "total CO2", "value": 20, "unit": "mmol/L"}
    pco2 = {"name": "pco2", "value": 40, "unit": "mmHg"}
    asked = ask(patient=with_results(gas("ph", 7.4, None), pco2, total))
    assert "bicarbonate" not in starting_values(asked.patient)
    assert not any("taken as bicarbonate" in note.text for note in asked.notes)


EXCESS = {"name": "base_excess", "value": -6, "unit": "mmol/L"}


def excess_notes(prediction: Prediction) -> list[str]:
    return [note.text for note in prediction.notes if note.written.startswith("base excess")]


def test_a_base_excess_alone_is_not_used_and_that_is_said(reckon: Predict) -> None:
    alone = reckon(patient=with_results(EXCESS))
    (text,) = excess_notes(alone)
    assert text.startswith("Not used") and "alone" in text


def test_a_base_excess_that_the_gas_does_not_come_to_is_noted(reckon: Predict) -> None:
    pco2 = {"name": "pco2", "value": 40, "unit": "mmHg"}
    (text,) = excess_notes(reckon(patient=with_results(EXCESS, gas("ph", 7.4, None), pco2)))
    assert "come to" in text
    assert not excess_notes(reckon(patient=with_results(EXCESS, pco2)))


def test_a_base_excess_gives_the_start_with_one_other_figure(reckon: Predict) -> None:
    bicarbonate = {"name": "bicarbonate", "value": 19, "unit": "mmol/L"}
    prediction = reckon(patient=with_results(EXCESS, bicarbonate))
    assert prediction.course.series["base_excess_mmol_l"].mid[0] == pytest.approx(-6, abs=0.01)
    assert not excess_notes(prediction)


def test_fast_potassium_is_said_to_stand_higher_at_the_heart(reckon: Predict) -> None:
    bag = {"composition": {"potassium_mmol_l": 200, "chloride_mmol_l": 200}, "volume_ml": 200}
    fast, slow = (reckon({**bag, "duration_min": minutes}) for minutes in (40, 120))
    assert any("heart" in note.text for note in fast.notes)
    assert "heart" in fast.not_modelled[0]
    assert not any("heart" in text for text in slow.not_modelled)
    assert not any("heart" in note.text for note in slow.notes)
