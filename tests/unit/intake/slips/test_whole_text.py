"""Slips of the pen, put right only where one word is near."""

import pytest

from app.intake.slips.whole_text import nearest
from app.intake.vocabulary import Vocabulary


@pytest.mark.parametrize(
    ("written", "right"),
    [
        ("manitol 20%", "mannitol 20 %"), ("harmanns", "hartmanns"),
        ("rinegrs lactate", "ringers lactate"),
        ("potasium chloride", "potassium chloride"), ("nomal saline", "normal saline"),
    ],
)  # fmt: skip
def test_a_slip_near_one_word_is_that_word(
    vocabulary: Vocabulary, written: str, right: str
) -> None:
    assert right in list(nearest(written, vocabulary))


@pytest.mark.parametrize(
    "written", ["moonlight", "0.9% saline with magic", "LR", "lactated ringers", ""]
)
def test_a_word_near_none_and_a_text_without_slips_give_nothing(
    vocabulary: Vocabulary, written: str
) -> None:
    assert not list(nearest(written, vocabulary))


def test_every_word_as_near_as_any_is_offered(vocabulary: Vocabulary) -> None:
    ways = set(nearest("hypetonic saline", vocabulary))
    assert ways == {"hypertonic saline", "hypotonic saline"}


def test_a_text_of_many_strange_words_is_left_alone(vocabulary: Vocabulary) -> None:
    assert not list(nearest("nomal salinee potasium hartmnns", vocabulary))
