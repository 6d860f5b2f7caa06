from typing import Any

import pytest

from app.web.ahead.address import (
    alone_address,
    asked_in,
    left_address,
    short_of,
    together_address,
    whole_of,
    why_not,
)
from tests.unit.web.ahead.conftest import CaseOf

BAG = {"fluid": "0.9% sodium chloride", "volume_ml": 1000, "rate_ml_h": 100, "duration_h": 10}
SALT = {"substance": "potassium chloride", "amount": 40, "unit": "mmol"}


def test_the_short_prediction_asks_the_same_as_the_whole_one() -> None:
    whole = "/predict?fluid=glucose-5&volume=500&rate=250&potassium=10"
    short = short_of(whole, patient="bed-04", instead="")
    assert short.startswith("/predict/ahead?")
    assert asked_in(short) == {**asked_in(whole), "patient": "bed-04", "horizon": "4"}


def test_how_far_to_look_stays_as_asked() -> None:
    assert asked_in(short_of("/predict?volume=500&rate=250&horizon=24"))["horizon"] == "24"
    assert "horizon" not in asked_in(short_of("/predict?fluid=glucose-5"))


def test_what_the_whole_one_cannot_try_has_no_short_one() -> None:
    assert short_of("", patient="bed-04") == ""


def test_the_whole_prediction_is_asked_for_what_was_typed_alone() -> None:
    assert whole_of({"fluid": "glucose-5", "rate": "", "volume": "500"}) == (
        "/predict?fluid=glucose-5&volume=500"
    )


def test_what_is_left_of_a_bag_is_tried_with_its_share_of_the_salt(case_of: CaseOf) -> None:
    order = {**BAG, "additives": [SALT], "purpose": "replacement"}
    case = case_of({**order, "starts_at": "2031-03-04T03:00:00Z"})
    asked = asked_in(left_address("bed-04", case.orders[0], case))
    assert (asked["volume"], asked["potassium"], asked["rate"]) == ("600", "24", "100")
    assert asked["instead"] == "o1"


def test_maintenance_is_tried_as_a_day_of_it(case_of: CaseOf) -> None:
    case = case_of({**BAG, "additives": [SALT], "purpose": "maintenance"})
    asked = asked_in(left_address("bed-04", case.orders[0], case))
    assert (asked["volume"], asked["potassium"]) == ("2400", "96")


def test_a_day_of_more_potassium_than_the_form_takes_is_looked_at_as_far_as_it_goes(
    case_of: CaseOf,
) -> None:
    case = case_of(
        {**BAG, "rate_ml_h": 250, "duration_h": 4, "additives": [SALT], "purpose": "maintenance"}
    )
    asked = asked_in(left_address("bed-04", case.orders[0], case))
    assert (asked["volume"], asked["potassium"]) == ("5000", "200")


def test_one_order_is_looked_at_by_itself_and_all_together(case_of: CaseOf) -> None:
    case = case_of({**BAG, "fluid": "dextrose saline"}, BAG)
    alone = asked_in(alone_address("bed-04", case.orders[1], case))
    together = asked_in(together_address("bed-04", case))
    assert alone == {**together, "others": "left-out"}
    assert together["instead"] == "o2"


def test_where_one_thing_runs_it_is_all_that_runs(case_of: CaseOf) -> None:
    case = case_of(BAG)
    assert "others" not in asked_in(alone_address("bed-04", case.orders[0], case))
    assert together_address("bed-04", case) == ""


@pytest.mark.parametrize(
    ("order", "why"),
    [
        ({**BAG, "fluid": "dextrose saline"}, "may mean"),
        ({**BAG, "rate_ml_h": None, "duration_h": None}, "no rate"),
        ({**BAG, "starts_at": "2031-03-03T12:00:00Z"}, "should be in by now"),
        (
            {**BAG, "additives": [{"substance": "magnesium sulfate", "amount": 8, "unit": "mmol"}]},
            "Only potassium chloride",
        ),
    ],
)
def test_why_nothing_can_be_told_is_said(case_of: CaseOf, order: dict[str, Any], why: str) -> None:
    case = case_of({"purpose": "replacement", **order})
    assert left_address("bed-04", case.orders[0], case) == ""
    assert alone_address("bed-04", case.orders[0], case) == together_address("bed-04", case) == ""
    assert why in why_not(case.orders[0], case)


def test_of_what_can_be_told_there_is_no_such_word(case_of: CaseOf) -> None:
    case = case_of(BAG)
    assert why_not(case.orders[0], case) == ""
