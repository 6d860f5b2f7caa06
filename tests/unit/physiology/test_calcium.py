import pytest

from app.catalogue.catalogue import Catalogue
from app.chemistry.composition import Composition
from app.patient.known import NotKnown
from app.patient.order import AdditiveDose, CoInfusion, Order
from app.physiology.calcium import order_brings_calcium, other_brings_calcium


def test_lactated_ringers_brings_calcium_and_saline_does_not(catalogue: Catalogue) -> None:
    assert order_brings_calcium(Order("o1", "", catalogue.get("lactated-ringers")))
    assert not order_brings_calcium(Order("o1", "", catalogue.get("sodium-chloride-0.9")))


def test_calcium_added_counts_even_when_its_amount_is_not_read(catalogue: Catalogue) -> None:
    dose = AdditiveDose("calcium gluconate", Composition(), "10 of it", unread="no unit")
    saline = catalogue.get("sodium-chloride-0.9")
    assert order_brings_calcium(Order("o1", "", saline, additives=(dose,)))


def test_a_name_that_always_means_calcium_is_an_answer(catalogue: Catalogue) -> None:
    both = tuple(f for i in ("ringers-injection", "ringers-acetate") if (f := catalogue.get(i)))
    assert order_brings_calcium(Order("o1", "Ringer's", None, candidates=both))


def test_a_name_that_may_mean_calcium_is_not_known(catalogue: Catalogue) -> None:
    ids = ("ringers-injection", "sodium-chloride-0.9")
    both = tuple(f for i in ids if (f := catalogue.get(i)))
    for candidates in (both, ()):
        with pytest.raises(NotKnown) as lack:
            order_brings_calcium(Order("o1", "?", None, candidates=candidates))
        assert lack.value.need == "fluid"


def test_a_drug_brings_the_calcium_of_its_diluent(catalogue: Catalogue) -> None:
    diluent = catalogue.get("compound-sodium-lactate")
    assert other_brings_calcium(CoInfusion("cefuroxime", "drug", diluent=diluent))
    assert other_brings_calcium(CoInfusion("x", "drug", contents=frozenset({"calcium"})))
    assert not other_brings_calcium(CoInfusion("cefuroxime", "drug"))
