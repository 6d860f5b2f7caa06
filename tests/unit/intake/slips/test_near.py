"""Words near the one written, the closest first."""

import pytest

from app.intake.slips.near import Choices, right_words, words_in
from app.intake.vocabulary import Vocabulary

CHOICES = Choices(("sodium", "sodom", "podium", "phosphate"))


@pytest.mark.parametrize(("written", "slips", "near"), [
    ("sodum", 1, ("sodium", "sodom")), ("sdoium", 1, ("sodium",)), ("sodim", 0, ()),
    ("soddm", 2, ("sodom", "sodium")), ("todium", 1, ()), ("", 2, ()),
])  # fmt: skip
def test_a_slip_falls_behind_the_first_letter(
    written: str, slips: int, near: tuple[str, ...]
) -> None:
    assert CHOICES.of_first_letter(written, slips) == near


def test_a_word_too_short_to_be_sure_of_is_left_out() -> None:
    assert CHOICES.of_first_letter("sodum", 1, least=6) == ("sodium",)


@pytest.mark.parametrize(("written", "slips", "near"), [
    ("bodium", 1, ("podium", "sodium")), ("sodium", 2, ("sodium",)), ("phosfate", 1, ()),
    ("phosfate", 2, ("phosphate",)), ("podiums", 2, ("podium",)),
])  # fmt: skip
def test_only_the_words_as_close_as_any_are_closest(
    written: str, slips: int, near: tuple[str, ...]
) -> None:
    assert CHOICES.closest(written, slips) == near


def test_a_word_of_any_book_is_right_and_so_is_one_that_only_fills(vocabulary: Vocabulary) -> None:
    right = right_words(vocabulary)
    assert {"furosemide", "meningitis", "saline"} <= right
    assert vocabulary.fillers <= right
    assert words_in(vocabulary.analytes) == vocabulary.analytes.words
    assert "spelled" not in words_in(vocabulary.drugs)
