"""Fluids and additives as people write them mean what a careful pharmacist takes them to mean."""

from typing import Any

import pytest

from app.catalogue.catalogue import Catalogue
from app.intake.vocabulary import Vocabulary
from tests.cases.words.meaning import misread, read, wordings

MAY_FALL_SHORT = 0.02
MANY, SET_ASIDE = 220, 0.4
WORDINGS = list(wordings("fluids.toml"))


def _name(wording: dict[str, Any]) -> str:
    return str(wording.get("text") or wording["fluid"])


@pytest.mark.parametrize(
    "wording", [pytest.param(w, id=_name(w)) for w in WORDINGS if "short" not in w]
)
def test_it_means_what_a_careful_reader_takes_it_to_mean(
    wording: dict[str, Any], catalogue: Catalogue, vocabulary: Vocabulary
) -> None:
    assert not misread(wording, read(wording, catalogue, vocabulary))


def test_the_wordings_are_many_and_near_half_of_them_were_set_aside() -> None:
    kept = sum(bool(wording.get("kept")) for wording in WORDINGS)
    assert len(WORDINGS) >= MANY
    assert kept >= SET_ASIDE * len(WORDINGS)


def test_few_fall_short() -> None:
    assert sum("short" in wording for wording in WORDINGS) <= MAY_FALL_SHORT * len(WORDINGS)
