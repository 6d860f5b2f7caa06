"""What a day brings, and who is meant to get it."""

from collections.abc import Callable, Mapping
from typing import Any

import pytest

from app.cautions.day_loads import (
    adult_upkeep,
    documented_losses,
    is_upkeep,
    litres_in_day,
    overlap,
    running_h,
    weight_for_needs,
    whole_day,
)
from app.patient.case import Case
from app.patient.known import NotKnown

CaseOf = Callable[[Mapping[str, Any]], Case]
SALINE = {"fluid": "0.9% sodium chloride", "rate_ml_h": 100, "purpose": "maintenance"}


def case(case_of: CaseOf, *orders: Mapping[str, Any], **patient: object) -> Case:
    others = patient.pop("co_infusions", [])
    who = {"age_years": 60, "weight_kg": 70, **patient}
    return case_of({"patient": who, "orders": list(orders), "co_infusions": others})


def test_a_day_of_maintenance_is_summed(case_of: CaseOf) -> None:
    day = whole_day(case(case_of, SALINE))
    assert day.water_ml == pytest.approx(2400)
    assert day.sodium_mmol == pytest.approx(369.6)
    assert day.chloride_mmol == pytest.approx(369.6)
    assert not day.at_least


def test_the_bag_of_a_drug_counts_as_often_as_the_drug_is_given(case_of: CaseOf) -> None:
    drug = {"substance": "meropenem", "amount": 1, "unit": "g"}
    bag = {"fluid": "0.9% sodium chloride", "volume_ml": 100, "rate_ml_h": 200,
           "purpose": "carrier", "order_text": "TDS", "additives": [drug]}  # fmt: skip
    one = case(case_of, bag)
    assert litres_in_day(one.orders[0], one) == pytest.approx(0.3)


def test_a_bolus_is_no_maintenance(case_of: CaseOf) -> None:
    bolus = {**SALINE, "rate_ml_h": 1000, "volume_ml": 500, "purpose": "resuscitation"}
    assert whole_day(case(case_of, SALINE, bolus)).water_ml == pytest.approx(2400)


def test_a_drugs_volume_and_its_diluents_sodium_count(case_of: CaseOf) -> None:
    drug = {"name": "ceftriaxone 2 g in 100 mL 0.9% sodium chloride", "kind": "drug"}
    day = whole_day(case(case_of, SALINE, co_infusions=[drug]))
    assert day.elsewhere_ml == pytest.approx(100)
    assert day.sodium_mmol == pytest.approx(369.6 + 15.4)


def test_an_order_without_a_rate_makes_the_sum_a_lower_bound(case_of: CaseOf) -> None:
    unknown = {"fluid": "0.9% sodium chloride", "purpose": "maintenance"}
    day = whole_day(case(case_of, SALINE, unknown))
    assert day.at_least
    assert day.prefix == "at least "


def test_an_unknown_bag_still_counts_as_water(case_of: CaseOf) -> None:
    day = whole_day(case(case_of, {**SALINE, "fluid": "blue water"}))
    assert day.water_ml == pytest.approx(2400)
    assert day.at_least


@pytest.mark.parametrize(
    ("rate", "purpose", "upkeep"),
    [(100, None, True), (20, None, False), (800, None, False), (20, "maintenance", True)],
)
def test_without_a_purpose_the_rate_tells_maintenance(
    case_of: CaseOf, rate: float, purpose: str | None, upkeep: bool
) -> None:
    order = case(case_of, {**SALINE, "rate_ml_h": rate, "purpose": purpose}).orders[0]
    assert is_upkeep(order) is upkeep


def test_losses_are_told_in_words(case_of: CaseOf) -> None:
    patient = case(case_of, SALINE, conditions=["diarrhoea"]).patient
    assert "diarrhoea" in documented_losses(patient)


def test_ideal_weight_counts_in_obesity(case_of: CaseOf) -> None:
    obese = case(case_of, SALINE, weight_kg=130, height_cm=175, sex="male").patient
    weight, words = weight_for_needs(obese)
    assert weight == pytest.approx(70.57, abs=0.01)
    assert words == "71 kg ideal weight"


@pytest.mark.parametrize(
    "patient",
    [{"weight_kg": 80, "height_cm": 175, "sex": "male"}, {"weight_kg": 130}, {"height_cm": 140}],
)
def test_otherwise_the_weight_itself_counts(case_of: CaseOf, patient: dict[str, object]) -> None:
    snapshot = case(case_of, SALINE, **patient).patient
    assert weight_for_needs(snapshot)[0] == snapshot.weight_kg


def test_without_a_weight_needs_cannot_be_judged(case_of: CaseOf) -> None:
    with pytest.raises(NotKnown):
        weight_for_needs(case(case_of, SALINE, weight_kg=None).patient)


@pytest.mark.parametrize("setting", ["theatre", "paediatric"])
def test_theatre_and_children_are_no_adults_on_maintenance(case_of: CaseOf, setting: str) -> None:
    age = 6 if setting == "paediatric" else 60
    request = {
        "patient": {"age_years": age, "weight_kg": 20},
        "orders": [SALINE],
        "setting": setting,
    }
    assert adult_upkeep(case_of(request)) is None


def test_how_long_an_order_has_run_comes_from_its_start(case_of: CaseOf) -> None:
    started = case(case_of, {**SALINE, "starts_at": "2031-03-03T03:00:00Z"})
    to_come = case(case_of, {**SALINE, "starts_at": "2031-03-04T09:00:00Z"})
    assert running_h(started.orders[0], started) == pytest.approx(28)
    assert not running_h(to_come.orders[0], to_come)


def test_maintenance_goes_on_when_its_bag_is_empty(case_of: CaseOf) -> None:
    bag = {**SALINE, "rate_ml_h": 125, "volume_ml": 1000, "duration_h": 8}
    one = case(case_of, bag)
    assert litres_in_day(one.orders[0], one) == pytest.approx(3)


def test_bags_ordered_one_by_one_are_counted_once_each(case_of: CaseOf) -> None:
    bag = {"fluid": "0.9% sodium chloride", "volume_ml": 1000, "duration_h": 12}
    first = {**bag, "purpose": "maintenance", "starts_at": "2031-03-04T07:00:00Z"}
    second = {**first, "starts_at": "2031-03-04T19:00:00Z"}
    two = case(case_of, first, second)
    assert not overlap(two.orders[0], two.orders[1], two)
    assert whole_day(two).water_ml == pytest.approx(2000)


def test_two_orders_without_a_start_run_together(case_of: CaseOf) -> None:
    two = case(case_of, SALINE, SALINE)
    assert overlap(two.orders[0], two.orders[1], two)
