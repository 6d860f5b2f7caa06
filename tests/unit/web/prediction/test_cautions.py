"""The rules look at a bag that is tried as they would at the same order."""

from dataclasses import replace

import pytest
from fastapi import FastAPI

from app.patient.case import Case
from app.review.workflow import review_patient
from app.storage.database import reading
from app.web.prediction.asked import Asked, Bag
from app.web.prediction.cautions import bag_cautions, order_of


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
    order = order_of(bag(app, "sodium-chloride-0.9", 20), 1000, 500, case)
    assert order.rate_ml_h == pytest.approx(120)
    assert order.additives[0].added.potassium_mmol_l == 20
    assert order.mix is not None
    assert order.mix.potassium_mmol_l == pytest.approx(20)
    assert order.lumen == case.orders[0].lumen


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


def test_an_order_that_is_the_first_s_equal_is_judged_as_the_first(
    app: FastAPI, case: Case
) -> None:
    alone = replace(case, orders=case.orders[:1])
    order = order_of(bag(app, "sodium-chloride-0.9", 20), 1000, 1000, alone)
    assert order.purpose == alone.orders[0].purpose
