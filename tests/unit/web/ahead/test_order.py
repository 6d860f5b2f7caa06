import pytest

from app.web.ahead.address import asked_in
from app.web.ahead.order import NOT_AHEAD, insulin_named, order_ahead, typed_as
from tests.unit.web.ahead.conftest import CaseOf

BAG = {"fluid": "0.9% sodium chloride", "volume_ml": 1000, "rate_ml_h": 100}


def test_an_order_that_goes_on_is_followed_for_a_day_and_that_is_said(case_of: CaseOf) -> None:
    case = case_of(BAG)
    ahead = order_ahead(case.orders[0], case)
    assert asked_in(ahead.address)["volume"] == "2400"
    assert ahead.renewed and not ahead.why_not


def test_an_order_that_is_given_once_is_followed_as_one_bag(case_of: CaseOf) -> None:
    case = case_of({**BAG, "duration_h": 10})
    ahead = order_ahead(case.orders[0], case)
    assert asked_in(ahead.address)["volume"] == "1000"
    assert not ahead.renewed


def test_an_order_without_a_rate_is_not_followed_and_says_why(case_of: CaseOf) -> None:
    case = case_of({"fluid": "0.9% sodium chloride", "volume_ml": 1000})
    ahead = order_ahead(case.orders[0], case)
    assert (ahead.address, ahead.renewed) == ("", False)
    assert "no rate is written" in ahead.why_not
    assert NOT_AHEAD.address == NOT_AHEAD.why_not == ""


def test_a_person_typed_is_told_in_the_project_s_units(case_of: CaseOf) -> None:
    case = case_of(
        weight_kg=60,
        sex="female",
        height_cm=165,
        urine_ml_h=15,
        conditions=["acute kidney injury stage 3", "acute hyponatraemia"],
        observations=[
            {"name": "glucose", "value": 360, "unit": "mg/dL"},
            {"name": "sodium", "value": 118, "unit": "mmol/L"},
            {"name": "potassium", "value": 5900, "unit": "mmol/L"},
        ],
    )
    typed = typed_as(case.patient)
    assert float(typed["result_glucose"]) == pytest.approx(20, abs=0.1)
    assert (typed["result_sodium"], typed["weight"], typed["sex"]) == ("118", "60", "female")
    assert (typed["kidneys"], typed["onset"], typed["urine"]) == ("1", "acute", "15")
    assert "result_potassium" not in typed and "shock" not in typed


def test_of_nobody_nothing_is_told(case_of: CaseOf) -> None:
    assert typed_as(case_of(age_years=None).patient) == {}


def test_insulin_that_runs_is_told_by_its_units_or_as_running(case_of: CaseOf) -> None:
    assert insulin_named(["soluble insulin 7 units/h", "insulin 2 units/h"], 70) == {"insulin": "9"}
    assert insulin_named(["insulin, variable rate"], 70) == {"insulin_runs": "1"}
    assert insulin_named(["insulin 6 units/h", "insulin"], 70) == {"insulin_runs": "1"}
    assert insulin_named([], 70) == {}
    case = case_of(BAG)
    assert "insulin" not in order_ahead(case.orders[0], case).person


def test_conditions_go_along_so_that_nothing_contradicts_them(case_of: CaseOf) -> None:
    typed = typed_as(case_of(conditions=["hyponatraemia", "seizure"]).patient)
    assert {"hyponatraemia", "seizure"} <= set(typed["said"].split(","))
