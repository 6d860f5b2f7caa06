import pytest

from app.review.ledger.amounts import ALL
from app.review.ledger.orders import bags_a_day, order_rows
from tests.unit.review.ledger.conftest import CaseOf

KCL_20 = {"substance": "potassium chloride", "amount": 20, "unit": "mmol"}
SALINE = {"fluid": "0.9% sodium chloride", "volume_ml": 1000, "purpose": "maintenance"}


def test_a_maintenance_bag_is_followed_by_the_next_with_its_additive(case_of: CaseOf) -> None:
    case = case_of({**SALINE, "rate_ml_h": 125, "additives": [KCL_20]})
    fluid, additive = order_rows(case.orders[0], case)
    assert fluid.amounts.water_ml == pytest.approx(3000)
    assert fluid.amounts.sodium_mmol == pytest.approx(462)
    assert additive.amounts.potassium_mmol == pytest.approx(60)
    assert bags_a_day(case.orders[0], case) == pytest.approx(3)


def test_an_order_with_neither_rate_nor_volume_is_a_lower_bound(case_of: CaseOf) -> None:
    case = case_of({"fluid": "0.9% sodium chloride"})
    (row,) = order_rows(case.orders[0], case)
    assert row.known == "at least"
    assert row.at_least == ALL
    assert "not counted" in row.note
    assert bags_a_day(case.orders[0], case) is None


def test_a_fluid_that_is_not_known_counts_for_its_water_alone(case_of: CaseOf) -> None:
    case = case_of({**SALINE, "fluid": "the clear one", "rate_ml_h": 50})
    (row,) = order_rows(case.orders[0], case)
    assert row.amounts.water_ml == pytest.approx(1200)
    assert row.at_least == ALL - {"water_ml"}


def test_of_several_fluids_it_may_be_the_least_is_counted(case_of: CaseOf) -> None:
    case = case_of({**SALINE, "fluid": "Ringer's", "rate_ml_h": 125})
    (row,) = order_rows(case.orders[0], case)
    assert row.amounts.sodium_mmol == pytest.approx(390)
    assert "the least of them" in row.note
