"""The rules look at a bag that is tried as they would at the same order."""

from dataclasses import replace

import pytest
from fastapi import FastAPI

from app.patient.case import Case
from app.review.workflow import review_patient
from app.storage.database import reading
from app.web.prediction.asked import Asked, Bag
from app.web.prediction.cautions import NONE_OF_THEM, bag_cautions, order_of, replaced_order


@pytest.fixture
def case(app: FastAPI) -> Case:
    with reading(app.state.engine) as session:
        found = review_patient(session, app.state.knowledge, "bed-04")
    assert found is not None
    return found.review.case


def bag(app: FastAPI, fluid_id: str, potassium_mmol: float = 0) -> Bag:
    fluid = app.state.knowledge.catalogue.get(fluid_id)
    assert fluid is not None
    return Bag("A", fluid, potassium_mmol)


def test_a_bag_becomes_the_order_it_would_be(app: FastAPI, case: Case) -> None:
    first = case.orders[0]
    order = order_of(bag(app, "sodium-chloride-0.9", 20), 1000, 500, case, first)
    assert order.rate_ml_h == pytest.approx(120)
    assert order.additives[0].added.potassium_mmol_l == 20
    assert order.mix is not None
    assert order.mix.potassium_mmol_l == pytest.approx(20)
    assert (order.lumen, order.purpose) == (first.lumen, first.purpose)


def test_potassium_at_6_1_is_critical_beside_any_curve(app: FastAPI, case: Case) -> None:
    asked = Asked(volume_ml=1000, minutes=1000)
    salted = bag_cautions(
        bag(app, "sodium-chloride-0.9", 20), asked, case, app.state.knowledge.ruleset
    )
    assert salted is not None
    assert "critical" in {line.level for line in salted.lines}
    plain = bag_cautions(bag(app, "sodium-chloride-0.9"), asked, case, app.state.knowledge.ruleset)
    assert plain is not None
    assert {line.rule_id for line in plain.lines} < {line.rule_id for line in salted.lines}


def test_a_bag_without_a_pace_is_not_looked_at(app: FastAPI, case: Case) -> None:
    tried = bag(app, "sodium-chloride-0.9")
    assert bag_cautions(tried, Asked(volume_ml=1000), case, app.state.knowledge.ruleset) is None


def test_the_order_that_gives_way_is_the_one_chosen_or_of_the_same_fluid_or_the_first(
    app: FastAPI, case: Case
) -> None:
    first = case.orders[0]
    fluid = app.state.knowledge.catalogue.get("glucose-5")
    second = replace(first, id="second", fluid=fluid)
    orders = (first, second)
    same = Asked((bag(app, "glucose-5"),))
    other = Asked((bag(app, "lactated-ringers"),))
    assert replaced_order(same, orders) is second
    assert replaced_order(other, orders) is first
    assert replaced_order(replace(other, typed={"instead": "second"}), orders) is second
    assert replaced_order(replace(other, typed={"instead": "gone"}), orders) is first
    assert replaced_order(replace(other, typed={"instead": NONE_OF_THEM}), orders) is None
    assert replaced_order(other, ()) is None


def test_a_bag_beside_all_orders_is_judged_together_with_them(app: FastAPI, case: Case) -> None:
    """A litre an hour for two hours with potassium: alone 15 mmol/h, beside the other 16."""
    ruleset, asked = app.state.knowledge.ruleset, Asked(volume_ml=1000, minutes=120)
    tried = bag(app, "sodium-chloride-0.9", 30)
    beside = bag_cautions(tried, asked, case, ruleset)
    instead = bag_cautions(tried, asked, case, ruleset, case.orders[0])
    assert beside is not None
    assert instead is not None

    def said(lines: object) -> str:
        return next(x.summary for x in lines if x.rule_id == "k-rate")  # type: ignore[attr-defined]

    assert "15 mmol/h" in said(instead.lines)
    assert "16.2 mmol/h" in said(beside.lines)


def test_a_finding_that_needs_a_next_bag_says_that_it_does(app: FastAPI, case: Case) -> None:
    adult = replace(case, orders=())
    tried = bag(app, "sodium-chloride-0.9")
    ruleset = app.state.knowledge.ruleset
    one = bag_cautions(tried, Asked(volume_ml=500, minutes=240), adult, ruleset)
    day = bag_cautions(tried, Asked(volume_ml=3000, minutes=1440), adult, ruleset)
    assert one is not None
    assert day is not None
    loads = [line.summary for line in one.lines if line.rule_id == "ord-chloride-total"]
    assert loads
    assert all(s.startswith("If it goes on at this rate for 24 h (3 L): ") for s in loads)
    assert not any("goes on" in line.summary for line in day.lines)


def test_what_one_bag_brings_by_itself_is_not_put_off(app: FastAPI, case: Case) -> None:
    salted = bag(app, "sodium-chloride-0.9", 20)
    found = bag_cautions(
        salted, Asked(volume_ml=500, minutes=240), case, app.state.knowledge.ruleset
    )
    assert found is not None
    high = [line.summary for line in found.lines if line.rule_id == "k-hyper"]
    assert high
    assert not any("goes on" in summary for summary in high)
