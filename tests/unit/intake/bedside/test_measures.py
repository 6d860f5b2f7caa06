"""Figures in a problem list."""

import pytest

from app.intake.bedside.measures import read_fasting, read_measures
from app.intake.conditions import read_conditions
from app.intake.vocabulary import Vocabulary


@pytest.mark.parametrize(
    ("written", "keys"),
    [
        ("icp 26", {"raised_intracranial_pressure", "brain_injury"}),
        ("icp = 24 mmhg", {"raised_intracranial_pressure", "brain_injury"}), ("icp 12", set()),
        ("ef 20%", {"heart_failure"}), ("lvef 55%", set()), ("bmi 15", {"malnutrition",
        "refeeding_risk"}), ("bmi 17", {"malnutrition"}), ("bmi 24", set()),
        ("bmi 42", {"obesity"}), ("sbp 85", set()), ("gcs 8", set()),
    ],
)  # fmt: skip
def test_a_measure_says_what_it_says(written: str, keys: set[str]) -> None:
    rest, said = read_measures(written)
    assert said == keys and not rest.strip()


def test_a_measure_is_heard_among_the_words(vocabulary: Vocabulary) -> None:
    words = read_conditions(["TBI, ICP 26 mmHg, GCS 6"], vocabulary)
    assert "raised_intracranial_pressure" in words.found and words.unread == ()
    assert words.detail["raised_intracranial_pressure"] == "TBI, ICP 26 mmHg, GCS 6"


def test_a_pressure_is_no_peritonitis(vocabulary: Vocabulary) -> None:
    known = "spontaneous_bacterial_peritonitis"
    assert known not in read_conditions(["SBP 85"], vocabulary).found
    assert known in read_conditions(["cirrhosis with SBP"], vocabulary).found


@pytest.mark.parametrize(
    ("written", "keys"),
    [
        ("ng output 1.3 l/day", {"gastric_losses"}), ("ngt on free drainage", {"gastric_losses"}),
        ("1.3 l/day from the ng tube", {"gastric_losses"}), ("ng feeding at 60 ml/h", set()),
        ("ng aspirates minimal", set()), ("ileostomy 1800 ml", {"bicarbonate_loss"}),
        ("ileostomy 400 ml", set()), ("cpt score 12", {"severe_liver_failure", "liver_disease"}),
        ("child pugh b8", {"cirrhosis", "liver_disease"}), ("child 7 years", set()),
        ("reflexes 0", {"lost_reflexes"}), ("reflexes 1+", {"weak_reflexes"}),
        ("reflexes ++", {"reflexes_present"}), ("ebl 1.8 l", {"haemorrhage"}),
        ("ebl 400 ml", set()),
        ("drinks a bottle of vodka daily", {"alcohol_dependence"}), ("etoh 2 units/week", set()),
        ("80 units a week", {"alcohol_dependence"}),
    ],
)  # fmt: skip
def test_a_drain_a_score_and_a_glass_say_what_they_say(written: str, keys: set[str]) -> None:
    assert read_measures(written)[1] == keys


@pytest.mark.parametrize(
    ("written", "keys"),
    [("no intake 14 days", {"refeeding_risk"}), ("not eaten for 10 days", {"refeeding_risk"}),
     ("nothing for 8/7", {"refeeding_risk"}), ("no food 2 weeks", {"refeeding_risk"}),
     ("not eating for 2 days", set()), ("nil by mouth 3 days", set()), ("no ckd", set())],
)  # fmt: skip
def test_days_without_food_risk_refeeding(written: str, keys: set[str]) -> None:
    assert read_fasting(written)[1] == keys
