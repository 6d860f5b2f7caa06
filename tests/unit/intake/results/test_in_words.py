"""Results among the conditions."""

import pytest

from app.intake.results.in_words import results_in_words, without_figures
from app.intake.vocabulary import Vocabulary


@pytest.mark.parametrize(
    ("written", "name", "value"),
    [("K+ 6.4", "potassium", 6.4), ("mod DKA pH 7.1", "ph", 7.1), ("Na 118 on gas", "sodium", 118),
     ("rhabdo CK 48,000", "creatine_kinase", 48000), ("Cr 410", "creatinine", 410)],
)  # fmt: skip
def test_a_figure_is_a_result_without_a_time(
    vocabulary: Vocabulary, written: str, name: str, value: float
) -> None:
    (one,) = results_in_words([written], vocabulary)[name]
    assert one.value == value
    assert one.taken_at is None and "told among the conditions" in one.converted


@pytest.mark.parametrize(
    "written",
    ["if K 3.4 replace", "K 6.4 -> 4.6", "K 6.4 on admission", "baseline Cr 90", "vitamin K 5 mg",
     "K 6.4, K 4.1", "target Na 135", "K 20 mmol", "CKD 4", "K+ 50"],
)  # fmt: skip
def test_what_is_not_the_figure_now_tells_none(vocabulary: Vocabulary, written: str) -> None:
    assert results_in_words([written], vocabulary) == {}


def test_the_words_left_hold_no_figure() -> None:
    assert without_figures("dka ph 7.1").split() == ["dka"]
