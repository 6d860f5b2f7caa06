"""Slips of the pen are mended only where no other meaning is as near."""

import pytest

from app.intake.conditions import read_conditions
from app.intake.slips.near import Choices
from app.intake.slips.phrases import choices_of, mended, near_words
from app.intake.vocabulary import Vocabulary


@pytest.mark.parametrize(
    ("written", "key"),
    [
        ("cirhosis", "cirrhosis"), ("pnuemonia", "pneumonia"), ("siezure", "seizure"),
        ("subarachnoid haemorage", "subarachnoid_haemorrhage"), ("hart failure", "heart_failure"),
        ("rhabdomylosis", "rhabdomyolysis"), ("chronic kidny disease", "chronic_kidney_disease"),
        ("meningitus", "meningitis"), ("hypernatreamia", "hypernatraemia"),
    ],
)  # fmt: skip
def test_a_slip_is_mended(vocabulary: Vocabulary, written: str, key: str) -> None:
    assert key in read_conditions([written], vocabulary).found


def test_a_word_between_two_meanings_is_asked_about(vocabulary: Vocabulary) -> None:
    words = read_conditions(["hypekalaemia"], vocabulary)
    assert not words.found
    assert any("hyperkalaemia" in text and "hypokalaemia" in text for text in words.unread)


@pytest.mark.parametrize("written", ["colectomy", "nephrology", "infusion", "seated", "dairy"])
def test_another_word_is_no_slip(vocabulary: Vocabulary, written: str) -> None:
    choices = choices_of(vocabulary.conditions)
    known = frozenset({"colectomy"})
    assert mended((written,), vocabulary.conditions, known, choices) == ((written,), ())


def test_names_of_results_bear_a_slip() -> None:
    names = Choices(("potassium", "sodium", "phosphate"))
    assert near_words("pottasium", names) == ("potassium",)
    assert near_words("sodum", names) == ("sodium",)
    assert near_words("alb", names) == ()
