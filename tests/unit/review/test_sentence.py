"""Sentences end once."""

import pytest

from app.review.sentence import as_sentence


@pytest.mark.parametrize(
    ("text", "sentence"),
    [("No weight", "No weight."), ("Which?", "Which?"), ("Done.", "Done."), (" Stop ", "Stop.")],
)
def test_a_sentence_ends_with_one_mark(text: str, sentence: str) -> None:
    assert as_sentence(text) == sentence
