"""The label beside a prediction comes from the report that was shipped."""

from app.review.trials.errors import NO_TRIAL
from app.review.trials.shipped import model_version, shipped, truth_label


def test_saline_has_trials_and_says_how_far_off() -> None:
    said = truth_label("bicarbonate_mmol_l", "saline", 40.0)
    assert said.startswith("In 1 published group given such a fluid and dose it was off by ")
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
