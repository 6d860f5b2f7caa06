"""Strengths that no bag has."""

import pytest

from app.catalogue.catalogue import Catalogue
from app.intake.vocabulary import Vocabulary
from app.intake.wording.known import KnownFluids
from app.intake.wording.made_up import made_up, one_word


@pytest.mark.parametrize(
    ("parts", "fluid_id", "added"),
    [
        ({("glucose", 12.5)}, "glucose-10", ["glucose"]),
        ({("glucose", 10.0), ("saline", 0.18)}, "glucose-10", ["sodium_chloride"]),
        ({("saline", 2.7)}, "sodium-chloride-0.9", ["sodium_chloride"]),
    ],
)
def test_it_is_the_weaker_bag_and_what_that_lacks(
    catalogue: Catalogue, vocabulary: Vocabulary, parts: set[tuple[str, float]], fluid_id: str,
    added: list[str],
) -> None:  # fmt: skip
    made = made_up(frozenset(parts), KnownFluids(catalogue, vocabulary).one)
    assert made is not None
    assert made[0].id == fluid_id and [dose.key for dose in made[1]] == added


@pytest.mark.parametrize(
    "parts", [{("saline", 9.0)}, {("glucose", None)}, {("glucose", 80.0)}, {("mannitol", 10.0)}]
)
def test_what_nobody_makes_up_is_not_made_up(
    catalogue: Catalogue, vocabulary: Vocabulary, parts: set[tuple[str, float | None]]
) -> None:
    assert made_up(frozenset(parts), KnownFluids(catalogue, vocabulary).one) is None


def test_dextrose_is_glucose() -> None:
    assert one_word("dextrose") == "glucose" and one_word("saline") == "saline"
