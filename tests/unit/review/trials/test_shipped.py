"""The label beside a prediction comes from the report that was shipped."""

import pytest

from app.review.trials import shipped as shipped_module
from app.review.trials.errors import NO_TRIAL
from app.review.trials.shipped import is_stale, model_version, shipped, truth_label


def test_saline_has_trials_and_says_how_far_off() -> None:
    said = truth_label("bicarbonate_mmol_l", "saline", 40.0)
    assert said.startswith("In 1 published group (")
    assert "0.9% sodium chloride, at " in said and "it was off by " in said
    assert " mmol/L" in said


def test_a_longer_look_says_when_measuring_ended() -> None:
    day = truth_label("bicarbonate_mmol_l", "saline", 40.0, 1440.0)
    assert "Nobody measured it later than " in day
    assert day.startswith(truth_label("bicarbonate_mmol_l", "saline", 40.0))


def test_a_quantity_that_no_trial_measured_says_so() -> None:
    assert truth_label("glucose_mmol_l", "dextrose", 20.0) == NO_TRIAL
    assert truth_label("sodium_mmol_l", None, 20.0) == NO_TRIAL


def test_the_report_names_its_day_and_its_model() -> None:
    assert shipped().day
    assert len(model_version()) == len(shipped().model)


def test_a_score_is_stale_once_a_number_of_the_model_has_changed(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(shipped_module, "model_version", lambda: shipped().model)
    assert not is_stale()
    monkeypatch.setattr(shipped_module, "model_version", lambda: "another")
    assert is_stale()
