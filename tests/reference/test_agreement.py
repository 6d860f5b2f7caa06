"""Interval and agreement against published figures and a library that others wrote.

Newcombe, Stat Med 1998;17:857-72, table I (method 3, four places): from memory of the table.
Fleiss, Levin and Paik, Statistical Methods for Rates and Proportions, 3rd ed. 2003, chapter 18,
table 18.1 (two raters, 100 subjects, three diagnoses): from memory; kappa is given as 0.676 there.
The table of fifty proposals read by two readers (20, 5, 10, 15) is worked out in many courses.
"""

from fractions import Fraction
from itertools import product

import pytest
from scipy.stats import binomtest

from app.review.burden.precision import cohen_kappa, wilson

NEWCOMBE = [
    (81, 263, 0.2553, 0.3662),
    (15, 148, 0.0624, 0.1605),
    (0, 20, 0.0000, 0.1611),
    (1, 29, 0.0061, 0.1718),
]
FLEISS = {
    ("psychotic", "psychotic"): 75, ("psychotic", "neurotic"): 1, ("psychotic", "organic"): 4,
    ("neurotic", "psychotic"): 5, ("neurotic", "neurotic"): 4, ("neurotic", "organic"): 1,
    ("organic", "psychotic"): 0, ("organic", "neurotic"): 0, ("organic", "organic"): 10,
}  # fmt: skip
PROPOSALS = {("yes", "yes"): 20, ("yes", "no"): 5, ("no", "yes"): 10, ("no", "no"): 15}


def pairs(table: dict[tuple[str, str], int]) -> list[tuple[str, str]]:
    return [pair for pair, number in table.items() for _ in range(number)]


@pytest.mark.parametrize(("hits", "of", "low", "high"), NEWCOMBE)
def test_the_interval_is_the_published_one(hits: int, of: int, low: float, high: float) -> None:
    found = wilson(hits, of)
    assert found.low == pytest.approx(low, abs=5e-5)
    assert found.high == pytest.approx(high, abs=5e-5)


@pytest.mark.parametrize("of", [1, 2, 7, 10, 50, 263])
def test_the_interval_is_that_of_scipy(of: int) -> None:
    for hits in range(of + 1):
        theirs = binomtest(hits, of).proportion_ci(method="wilson")
        ours = wilson(hits, of)
        assert (ours.low, ours.high) == pytest.approx((theirs.low, theirs.high), abs=1e-12)


def test_agreement_is_that_of_the_textbook() -> None:
    assert cohen_kappa(pairs(FLEISS)) == pytest.approx(0.676, abs=5e-4)
    assert cohen_kappa(pairs(PROPOSALS)) == pytest.approx(0.4)


@pytest.mark.parametrize(
    "table", [FLEISS, PROPOSALS, {("a", "b"): 3, ("b", "a"): 3}, {("a", "a"): 2, ("b", "b"): 5}]
)
def test_agreement_is_that_of_exact_fractions(table: dict[tuple[str, str], int]) -> None:
    """The definition, written as a sum over cells and margins in whole numbers."""
    words = {word for pair in table for word in pair}
    number = sum(table.values())
    rows = {w: sum(table.get((w, o), 0) for o in words) for w in words}
    columns = {w: sum(table.get((o, w), 0) for o in words) for w in words}
    seen = Fraction(sum(table.get((w, w), 0) for w in words), number)
    chance = sum(
        Fraction(rows[w] * columns[o], number**2) for w, o in product(words, words) if w == o
    )
    assert cohen_kappa(pairs(table)) == pytest.approx(float((seen - chance) / (1 - chance)))
