"""Lists that one "no" denies."""

import pytest

from app.intake.problems.lists import Clause, denied_in_lists, reaches
from app.intake.vocabulary import Vocabulary, plain_words, words_of


def clause(text: str, vocabulary: Vocabulary) -> Clause:
    words = plain_words(words_of(text))
    return Clause(text, words, tuple(vocabulary.conditions.hits(words)))


@pytest.mark.parametrize(
    ("listed", "denied", "doubtful"),
    [
        (("no ccf", "ckd", "liver disease or head injury"), {1, 2}, {}),
        (("denies ccf", "ckd"), {1}, {}), (("no ccf", "ckd", "diabetes"), {1, 2}, {}),
        (("no ccf", "ckd"), set(), {1: 0}), (("no ccf", "ckd 4"), set(), {}),
        (("no ccf or ckd", "diabetes"), set(), {1: 0}),
        (("no ccf", "no ckd", "on dialysis"), set(), {}),
        (("not diabetic", "ckd"), set(), {}), (("no ccf", "known ckd"), set(), {}),
    ],
)  # fmt: skip
def test_how_far_a_no_reaches_over_commas(
    vocabulary: Vocabulary, listed: tuple[str, ...], denied: set[int], doubtful: dict[int, int]
) -> None:
    clauses = [clause(text, vocabulary) for text in listed]
    assert denied_in_lists(clauses) == (frozenset(denied), doubtful)


@pytest.mark.parametrize(
    ("written", "stretches"),
    [("no aki but ckd", 2), ("not on hd", 1), ("sepsis and shock", 2), ("ckd", 1)],
)
def test_a_turn_ends_the_reach_of_a_no(
    vocabulary: Vocabulary, written: str, stretches: int
) -> None:
    one = clause(written, vocabulary)
    assert len(list(reaches(one.words, one.hits))) == stretches
