"""The lumen meant by the words for its place."""

from typing import Any

import pytest

from app.catalogue.catalogue import Catalogue
from app.intake.medicines.place import lumens_meant, place_in, place_words
from app.intake.read import read_case
from app.intake.vocabulary import Vocabulary
from app.patient.access import Lumen
from app.patient.case import Case
from tests.conftest import NOW

HANDS = (Lumen("left hand", "peripheral"), Lumen("right hand", "peripheral"))
NECK = (
    Lumen("RIJ distal", "central"),
    Lumen("RIJ proximal", "central"),
    Lumen("L ACF", "peripheral"),
)
PLAIN = (Lumen("p1", "peripheral"), Lumen("c1", "central"))


@pytest.mark.parametrize(
    ("label", "access", "meant"),
    [("L hand", HANDS, ("left hand",)), ("LH", HANDS, ("left hand",)), ("hand", HANDS,
     ("left hand", "right hand")), ("distal lumen RIJ", NECK, ("RIJ distal",)),
     ("right IJ (distal)", NECK, ("RIJ distal",)), ("distal", NECK, ("RIJ distal",)),
     ("left antecubital fossa 20G", NECK, ("L ACF",)), ("central line", PLAIN, ("c1",)),
     ("CVC", NECK, ("RIJ distal", "RIJ proximal")), ("P1", PLAIN, ("p1",)), ("foot", HANDS, ())],
)  # fmt: skip
def test_a_place_finds_the_lumen_listed(
    label: str, access: tuple[Lumen, ...], meant: tuple[str, ...]
) -> None:
    assert lumens_meant(label, access) == meant


@pytest.mark.parametrize(
    ("written", "access", "lumen"),
    [("meropenem 1 g in l hand", HANDS, "left hand"), ("via rij distal", NECK, "RIJ distal"),
     ("ceftriaxone via c1", PLAIN, "c1"), ("ceftriaxone peripherally", PLAIN, "p1"),
     ("ceftriaxone 2 g in 1 l", HANDS, None), ("2 g in 100 ml", PLAIN, None),
     ("red cells, warmed", HANDS, None), ("via cvc", NECK, None)],
)  # fmt: skip
def test_a_place_is_heard_in_a_name(
    written: str, access: tuple[Lumen, ...], lumen: str | None
) -> None:
    assert place_in(written, access) == lumen


def test_the_spellings_of_a_place_are_one() -> None:
    assert place_words("Lt antecubital fossa") == place_words("LACF") == {"left", "acf"}


def case_of(
    catalogue: Catalogue, vocabulary: Vocabulary, other: dict[str, Any], *orders: dict[str, Any]
) -> Case:
    """Hartmann's by p1, or these orders, with something beside."""
    fluids = orders or ({"fluid": "Hartmann's", "lumen": "p1"},)
    access = [{"id": "p1", "site": "peripheral"}, {"id": "p2", "site": "peripheral"}]
    request = {"patient": {"access": access}, "orders": list(fluids), "co_infusions": [other]}
    return read_case(request, catalogue=catalogue, vocabulary=vocabulary, now=NOW)


def test_a_lumen_that_contradicts_the_name_is_asked_about(
    catalogue: Catalogue, vocabulary: Vocabulary
) -> None:
    case = case_of(catalogue, vocabulary, {"name": "ceftriaxone via p2", "lumen": "p1"})
    assert case.co_infusions[0].lumen == "p1"
    assert [q.field for q in case.questions] == ["co_infusions[0].lumen"]


def test_a_lumen_that_may_be_several_is_none_and_asked(
    catalogue: Catalogue, vocabulary: Vocabulary
) -> None:
    case = case_of(catalogue, vocabulary, {"name": "ceftriaxone", "lumen": "peripheral"})
    assert case.co_infusions[0].lumen is None and case.questions


def test_a_lumen_that_is_not_listed_is_kept_and_asked(
    catalogue: Catalogue, vocabulary: Vocabulary
) -> None:
    case = case_of(catalogue, vocabulary, {"name": "ceftriaxone", "lumen": "left foot"})
    assert case.co_infusions[0].lumen == "left foot" and case.questions


def test_a_y_site_with_a_fluid_named_is_on_that_fluid_s_lumen(
    catalogue: Catalogue, vocabulary: Vocabulary
) -> None:
    case = case_of(
        catalogue, vocabulary, {"name": "meropenem Y-site with Hartmann's"},
        {"fluid": "0.9% sodium chloride", "lumen": "p1"}, {"fluid": "Hartmann's", "lumen": "p2"},
    )  # fmt: skip
    assert case.co_infusions[0].lumen == "p2"
