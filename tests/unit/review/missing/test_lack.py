"""A value that a rule lacked is tried over what it might be."""

from collections.abc import Callable

import pytest

from app.catalogue.catalogue import Catalogue
from app.cautions.assess import Ruleset, assess_order, assess_patient
from app.intake.read import read_case
from app.intake.vocabulary import Vocabulary
from app.patient.case import Case
from app.review.missing.lack import QUIET, Lack, judged_by, lacks_of_order, lacks_of_patient
from tests.conftest import NOW
from tests.unit.review.conftest import KCL_20, maintenance, result

CaseOf = Callable[..., Case]
OLD = "2031-03-02T05:00:00Z"


@pytest.fixture
def case_of(catalogue: Catalogue, vocabulary: Vocabulary) -> CaseOf:
    """A case of one order, patient fields by name."""

    def made(order: dict[str, object], **patient: object) -> Case:
        request = {"orders": [order], "patient": {"age_years": 60, "weight_kg": 70, **patient}}
        return read_case(request, catalogue=catalogue, vocabulary=vocabulary, now=NOW)

    return made


def of_order(case: Case, ruleset: Ruleset) -> dict[tuple[str, str], Lack]:
    """What the order rules lacked, by rule and need."""
    order = case.orders[0]
    gaps = assess_order(order, case, ruleset).not_assessed
    return {(k.rule.id, k.need): k for k in lacks_of_order(order, case, gaps, ruleset)}


def test_a_missing_potassium_could_be_critical_for_added_potassium(
    case_of: CaseOf, ruleset: Ruleset
) -> None:
    lack = of_order(case_of(maintenance("0.9% sodium chloride", additives=KCL_20)), ruleset)
    assert lack["k-hyper", "potassium"].rank == 0
    assert lack["k-hyper", "potassium"].order_ids == ("o1",)


def test_a_stale_value_is_tried_afresh_where_the_bag_is_judged_by_it(
    case_of: CaseOf, ruleset: Ruleset
) -> None:
    old = [result("potassium", 3.9, taken_at=OLD)]
    order = maintenance("0.9% sodium chloride", additives=KCL_20)
    lack = of_order(case_of(order, observations=old), ruleset)["k-hyper", "potassium"]
    assert (lack.why, lack.rank) == ("stale", 0)


def test_a_value_that_cannot_be_varied_raises_nothing(case_of: CaseOf, ruleset: Ruleset) -> None:
    lacks = of_order(case_of({"fluid": "a fluid of no name", "rate_ml_h": 80}), ruleset)
    assert lacks
    assert {lack.rank for (_, need), lack in lacks.items() if need == "fluid"} == {QUIET}


def test_a_rule_of_the_whole_patient_lacks_for_every_order(
    case_of: CaseOf, ruleset: Ruleset
) -> None:
    case = case_of(maintenance("5% dextrose"), weight_kg=None, age_years=0.01)
    gaps = assess_patient(case, ruleset).not_assessed
    lacks = lacks_of_patient(case, gaps, ruleset)
    assert {lack.order_ids for lack in lacks} == {("o1",)}


def test_a_bag_is_judged_by_what_it_holds_much_of(case_of: CaseOf) -> None:
    plain = case_of(maintenance("0.9% sodium chloride")).orders[0]
    with_potassium = case_of(maintenance("0.9% sodium chloride", additives=KCL_20)).orders[0]
    assert judged_by(plain) == frozenset()
    assert {"potassium", "creatinine"} <= judged_by(with_potassium)
