"""Figures in a problem list."""

import pytest

from app.intake.bedside.measures import read_measures
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
