"""Several things two by two."""

import pytest

from app.catalogue.catalogue import Catalogue
from app.catalogue.pairs.answer import PairBook
from app.catalogue.pairs.fact import STRICTEST_FIRST
from app.review.pairs.told import all_told, counted, told_of
from tests.unit.review.pairs.conftest import ThingOf


def test_words_that_may_mean_several_things_get_the_strictest_answer(
    book: PairBook, thing: ThingOf
) -> None:
    told = told_of(book, thing("ringers"), thing("propofol"))
    assert told is not None
    assert (told.answer.verdict, told.ambiguous) == ("no data", True)
    sure = told_of(book, thing("lactated-ringers"), thing("propofol"))
    assert sure is not None
    assert (sure.answer.verdict, sure.ambiguous) == ("may run together", False)


def test_what_is_not_understood_has_no_answer(book: PairBook, thing: ThingOf) -> None:
    assert told_of(book, thing("moon juice"), thing("propofol")) is None
    assert all_told(book, [thing("moon juice"), thing("propofol")]) == ()


def test_every_two_are_told_once_what_keeps_apart_first(book: PairBook, thing: ThingOf) -> None:
    things = [thing(w) for w in ("saline", "LR", "ceftriaxone", "red cells", "meropenem")]
    told = all_told(book, things)
    assert len(told) == 10
    assert dict(counted(told)) == {
        "keep apart": 3, "in turn": 1, "no data": 2, "may run together": 4,
    }  # fmt: skip
    strict = [each.answer.decisive.order for each in told]
    assert strict == sorted(strict)


def test_in_a_newborn_the_pair_that_is_barred_comes_first(book: PairBook, thing: ThingOf) -> None:
    things = [thing(w) for w in ("red cells", "LR", "ceftriaxone")]
    first = all_told(book, things, newborn=True)[0]
    assert first.answer.scope == "patient"
    assert {first.one.written, first.other.written} == {"LR", "ceftriaxone"}


DRUGS = (
    "ceftriaxone", "amiodarone", "phenytoin", "red cells", "FFP", "insulin", "heparin", "propofol",
    "TPN", "calcium", "blood", "dobutamine", "norepinephrine 4 mg in dextrose 5%",
)  # fmt: skip


@pytest.mark.parametrize("drug", DRUGS)
def test_over_all_fluids_order_does_not_matter_and_a_newborn_is_never_allowed_more(
    book: PairBook, thing: ThingOf, catalogue: Catalogue, drug: str
) -> None:
    one = thing(drug)
    for fluid in catalogue:
        other = thing(fluid.id)
        told, turned = told_of(book, one, other), told_of(book, other, one)
        born = told_of(book, one, other, newborn=True)
        assert told is not None
        assert turned is not None
        assert born is not None
        assert told.answer.decisive.order == turned.answer.decisive.order, fluid.id
        strict = [STRICTEST_FIRST.index(each.answer.verdict) for each in (born, told)]
        assert strict == sorted(strict), fluid.id
