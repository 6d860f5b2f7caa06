"""How long each infusion may stand still, and what never does."""

import pytest

from app.review.lines.bedside.pausing import held_min, pause_of, role_of
from tests.unit.review.lines.bedside.conftest import CALCIUM_FLUID, CEFTRIAXONE, PRESSOR, CaseOf

GLUCOSE = {"id": "o1", "fluid": "10% glucose", "rate_ml_h": 40, "purpose": "maintenance"}
INSULIN = {"name": "insulin 3 units/h", "kind": "drug"}
NUTRITION = {"name": "parenteral nutrition 80 mL/h", "kind": "nutrition"}
POTASSIUM = [{"substance": "potassium chloride", "amount": 40, "unit": "mmol"}]


def test_maintenance_may_pause_for_four_hours_and_with_potassium_for_two(case_of: CaseOf) -> None:
    plain, strong = case_of(CALCIUM_FLUID), case_of(CALCIUM_FLUID | {"additives": POTASSIUM})
    assert pause_of(plain.orders[0], plain).most_min == 240
    assert pause_of(strong.orders[0], strong).most_min == 120


@pytest.mark.parametrize("what", [INSULIN, NUTRITION, PRESSOR])
def test_what_is_marked_is_never_interrupted_and_says_why(
    case_of: CaseOf, what: dict[str, str]
) -> None:
    case = case_of(co=[what])
    pause = pause_of(case.co_infusions[0], case)
    assert pause.most_min == 0
    assert "interrupted" in pause.why


def test_any_other_drug_that_runs_is_the_prescribers_to_stop(case_of: CaseOf) -> None:
    case = case_of(co=[{"name": "furosemide 10 mg/h infusion", "kind": "drug"}])
    assert "unless the prescriber says so" in pause_of(case.co_infusions[0], case).why


@pytest.mark.parametrize("purpose", ["resuscitation", "correction"])
def test_resuscitation_and_correction_go_on(case_of: CaseOf, purpose: str) -> None:
    case = case_of(CALCIUM_FLUID | {"purpose": purpose})
    assert pause_of(case.orders[0], case).most_min == 0
    assert held_min(case.orders[0], case) == 0


def test_glucose_goes_on_beside_insulin_and_in_a_newborn_only(case_of: CaseOf) -> None:
    alone = case_of(GLUCOSE)
    beside = case_of(GLUCOSE, co=[INSULIN])
    newborn = case_of(GLUCOSE, age_years=0.01, weight_kg=3)
    assert pause_of(alone.orders[0], alone).most_min == 240
    assert "insulin" in pause_of(beside.orders[0], beside).why
    assert "newborn" in pause_of(newborn.orders[0], newborn).why


def test_a_bag_that_ends_may_be_held_for_two_hours(case_of: CaseOf) -> None:
    case = case_of(CALCIUM_FLUID)
    assert held_min(case.orders[0], case) == 120


def test_roles_are_those_of_reserved_lumens(case_of: CaseOf) -> None:
    case = case_of(co=[NUTRITION, PRESSOR, CEFTRIAXONE])
    assert [role_of(each) for each in case.co_infusions] == ["nutrition", "vasoactive", ""]
