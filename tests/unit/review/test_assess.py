from collections.abc import Callable
from typing import Any

import pytest

from app.catalogue.catalogue import Catalogue
from app.cautions.assess import Ruleset
from app.cautions.limits import limits_in_force
from app.cautions.registry import RULES
from app.intake.read import read_case
from app.intake.vocabulary import Vocabulary
from app.review.assess import Review, review
from tests.conftest import NOW

RULESET = Ruleset.of(RULES, limits_in_force(RULES))
Reviewed = Callable[..., Review]

KCL_20 = {"substance": "potassium chloride", "amount": 20, "unit": "mmol"}


def potassium(value: float) -> dict[str, Any]:
    return {
        "name": "potassium",
        "value": value,
        "unit": "mmol/L",
        "taken_at": "2031-03-04T06:00:00Z",
    }


@pytest.fixture
def reviewed(catalogue: Catalogue, vocabulary: Vocabulary) -> Reviewed:
    def run(*orders: dict[str, Any], **patient: Any) -> Review:  # noqa: ANN401
        numbered = [{"id": f"o{n}", **order} for n, order in enumerate(orders, 1)]
        request = {"patient": {"age_years": 61, "weight_kg": 70, **patient}, "orders": numbered}
        case = read_case(request, catalogue=catalogue, vocabulary=vocabulary, now=NOW)
        return review(case, RULESET)

    return run


def loud(found: Review) -> set[str]:
    return {f.rule.id for f in found.all_found if f.finding.level != "info"}


def test_the_worst_finding_stands_first(reviewed: Reviewed) -> None:
    order = {"fluid": "0.9% sodium chloride", "volume_ml": 1000, "rate_ml_h": 125}
    found = reviewed({**order, "additives": [KCL_20]}, observations=[potassium(6.1)])
    assert found.all_found[0].rule.id == "k-hyper"
    assert found.all_found[0].finding.order_ids == ("o1",)
    assert found.worst == 0


def test_loads_follow_rate_and_content(reviewed: Reviewed) -> None:
    saline = reviewed({"fluid": "0.9% sodium chloride", "volume_ml": 1000, "rate_ml_h": 100})
    loads = saline.orders[0].loads
    assert loads["sodium_mmol_per_day"] == pytest.approx(369.6)
    assert loads["water_ml_per_day"] == pytest.approx(2400)
    assert loads["potassium_mmol_h"] == 0


def test_glucose_is_counted_by_weight_and_as_anhydrous(reviewed: Reviewed) -> None:
    dextrose = reviewed({"fluid": "5% dextrose", "volume_ml": 1000, "rate_ml_h": 125})
    assert dextrose.orders[0].loads["glucose_mg_kg_min"] == pytest.approx(1.353, abs=0.001)


def test_a_load_that_cannot_be_worked_out_is_not_zero(reviewed: Reviewed) -> None:
    unread = reviewed({"fluid": "the clear one", "volume_ml": 1000, "rate_ml_h": 100})
    assert unread.orders[0].loads["sodium_mmol_per_day"] is None
    assert unread.totals["sodium_mmol_per_day"] is None


def test_totals_sum_the_orders(reviewed: Reviewed) -> None:
    saline = {"fluid": "0.9% sodium chloride", "volume_ml": 1000, "rate_ml_h": 50}
    both = reviewed(saline, {**saline, "fluid": "lactated Ringer's"})
    assert both.totals["sodium_mmol_per_day"] == pytest.approx(1.2 * (154 + 130))


def test_a_bare_name_is_judged_as_every_fluid_it_may_mean(reviewed: Reviewed) -> None:
    order = {"fluid": "Ringer's", "volume_ml": 1000, "rate_ml_h": 125, "additives": [KCL_20]}
    found = reviewed(order, observations=[potassium(6.1)])
    assert found.orders[0].order.fluid is None
    assert len(found.orders[0].order.candidates) > 1
    assert "k-hyper" in loud(found)


def test_an_order_with_nothing_wrong_is_found_quiet(reviewed: Reviewed) -> None:
    order = {
        "fluid": "compound sodium lactate",
        "volume_ml": 500,
        "rate_ml_h": 75,
        "purpose": "maintenance",
        "duration_h": 6.67,
    }
    results = [potassium(4.2), {**potassium(138), "name": "sodium"}]
    creatinine = {**potassium(80), "name": "creatinine", "unit": "umol/L"}
    found = reviewed(order, observations=[*results, creatinine], sex="female", urine_ml_h=60)
    assert loud(found) == set()
