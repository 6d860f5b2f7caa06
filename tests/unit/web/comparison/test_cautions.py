"""Each fluid is tried in the patient's first order's place; nothing is saved."""

from datetime import UTC, datetime
from typing import Any

import pytest

from app.catalogue.fluid import Fluid
from app.patient.case import Case
from app.review.knowledge import Knowledge
from app.review.workflow import review_request
from app.web.comparison.cautions import WHAT_IF, WhatIf, tried, what_if

NOW = datetime(2031, 3, 4, 7, 0, tzinfo=UTC)
ROWS = ("sodium", "potassium", "chloride")
ORDER = {"id": "o1", "fluid": "0.9% sodium chloride", "rate_ml_h": 125, "lumen": "p1"}


@pytest.fixture(scope="module")
def knowledge() -> Knowledge:
    return Knowledge.from_seed()


def case(knowledge: Knowledge, *orders: dict[str, Any], potassium: float | None = 6.1) -> Case:
    observation = {
        "name": "potassium", "value": potassium, "unit": "mmol/L", "taken_at": "2031-03-04T06:00Z",
    }  # fmt: skip
    request = {
        "setting": "adult ward",
        "patient": {
            "age_years": 61, "sex": "female", "weight_kg": 70,
            "access": [{"id": "p1", "site": "peripheral"}],
            "observations": [observation] if potassium else [],
        },
        "orders": list(orders),
    }  # fmt: skip
    return review_request(request, knowledge, now=NOW).case


def try_out(knowledge: Knowledge, of: Case, *ids: str) -> WhatIf:
    fluids = [fluid for fluid in map(knowledge.catalogue.get, ids) if fluid is not None]
    return what_if(of, fluids, 100, knowledge.ruleset, ROWS)


def test_potassium_in_the_bag_is_critical_when_potassium_is_6_1(knowledge: Knowledge) -> None:
    fluid = "potassium-chloride-40-sodium-chloride-0.9"
    result = try_out(knowledge, case(knowledge, ORDER), fluid, "sodium-chloride-0.45")
    first, second = result.fluids
    assert first.lines[0].level == "critical"
    assert "k-hyper" in {line.rule_id for line in first.lines}
    assert "k-hyper" not in {line.rule_id for line in second.lines}


def test_the_row_a_finding_is_about_is_told(knowledge: Knowledge) -> None:
    fluid = "potassium-chloride-40-sodium-chloride-0.9"
    assert "potassium" in try_out(knowledge, case(knowledge, ORDER), fluid).about


def test_only_loud_findings_get_a_line(knowledge: Knowledge) -> None:
    for each in try_out(knowledge, case(knowledge, ORDER), "lactated-ringers").fluids:
        assert {line.level for line in each.lines} <= {"critical", "warning"}


def test_what_could_not_be_assessed_is_said_with_what_it_lacks(knowledge: Knowledge) -> None:
    fluid = "potassium-chloride-40-sodium-chloride-0.9"
    (only,) = try_out(knowledge, case(knowledge, ORDER, potassium=None), fluid).fluids
    assert "for want of" in only.lacking
    assert "potassium" in only.lacking


def test_the_order_it_was_tried_in_place_of_is_named(knowledge: Knowledge) -> None:
    result = try_out(knowledge, case(knowledge, ORDER), "lactated-ringers")
    assert result.how == "in place of “0.9% sodium chloride”; the other orders stay"


def test_without_an_order_the_fluid_stands_alone(knowledge: Knowledge) -> None:
    result = try_out(knowledge, case(knowledge), "lactated-ringers")
    assert result.how == "alone; no other fluid is ordered"


def test_the_fluid_takes_the_first_order_s_place_and_lumen(knowledge: Knowledge) -> None:
    other = {**ORDER, "id": "o2", "fluid": "5% glucose (UK and Europe)"}
    fluid = knowledge.catalogue.get("lactated-ringers")
    assert isinstance(fluid, Fluid)
    swapped = tried(case(knowledge, ORDER, other), fluid, 100)
    assert [order.id for order in swapped.orders] == [WHAT_IF, "o2"]
    assert swapped.orders[0].lumen == "p1"
    assert swapped.orders[0].mix == fluid.composition
