"""A missing value is tried over what such a patient may have."""

from datetime import timedelta
from types import MappingProxyType

import pytest

from app.patient.case import Case
from app.patient.observation import Observation
from app.patient.order import CoInfusion, Order
from app.patient.snapshot import Snapshot
from app.review.missing.plausible import plausible_cases
from tests.conftest import NOW

ORDER = Order("o1", "0.9% sodium chloride", None)


def case_with(name: str, value: float, hours_old: float) -> Case:
    taken = NOW - timedelta(hours=hours_old)
    results = MappingProxyType({name: (Observation(name, value, "mmol/L", taken),)})
    return Case(Snapshot(NOW, results=results))


def values(cases: tuple[Case, ...], name: str) -> list[float]:
    return [case.patient.value(name) for case in cases]


def test_a_missing_potassium_may_be_high_or_low() -> None:
    tried = values(plausible_cases(Case(Snapshot(NOW)), None, "potassium", "missing"), "potassium")
    assert min(tried) < 3.5
    assert max(tried) > 5.5


def test_a_stale_potassium_is_tried_near_its_last_value() -> None:
    case = case_with("potassium", 4.0, 30)
    tried = values(plausible_cases(case, None, "potassium", "stale"), "potassium")
    assert tried == [pytest.approx(5.0), pytest.approx(3.0)]


def test_drift_ends_after_three_days() -> None:
    for_days = [
        max(values(plausible_cases(case_with("sodium", 140, h), None, "sodium", "stale"), "sodium"))
        for h in (72, 300)
    ]
    assert for_days[0] == for_days[1]


def test_a_missing_creatinine_brings_a_filtration_with_it() -> None:
    cases = plausible_cases(Case(Snapshot(NOW)), None, "creatinine", "missing")
    assert min(values(cases, "egfr")) < 30 < max(values(cases, "egfr"))


@pytest.mark.parametrize(
    ("age_years", "light", "heavy"), [(0.01, 2, 4.5), (0.5, 4, 11), (6, 12, 30), (60, 45, 110)]
)
def test_weights_fit_the_age(age_years: float, light: float, heavy: float) -> None:
    case = Case(Snapshot(NOW, age_years=age_years))
    weights = [c.patient.weight_kg for c in plausible_cases(case, None, "weight_kg", "missing")]
    assert weights == [pytest.approx(light), pytest.approx(heavy)]


def test_an_unknown_line_may_be_the_same_line() -> None:
    drug = CoInfusion("ceftriaxone", "drug", key="ceftriaxone")
    case = Case(Snapshot(NOW), (ORDER,), (drug,))
    tried = plausible_cases(case, ORDER, "lumen", "missing")
    assert {c.patient.access[0].site for c in tried} == {"peripheral", "central"}
    assert all(c.orders[0].lumen == c.co_infusions[0].lumen for c in tried)


def test_a_drug_said_to_run_apart_stays_apart() -> None:
    drug = CoInfusion("ceftriaxone", "drug", key="ceftriaxone", arrangement="separate")
    case = Case(Snapshot(NOW), (ORDER,), (drug,))
    assert plausible_cases(case, ORDER, "lumen", "missing")[0].co_infusions[0].lumen is None


def test_what_cannot_be_varied_is_not_tried() -> None:
    assert plausible_cases(Case(Snapshot(NOW)), None, "fluid", "missing") == ()


def test_a_balance_is_tried_at_what_is_much_for_the_weight() -> None:
    light = Case(Snapshot(NOW, weight_kg=10))
    tried = [
        [c.patient.balance_24h_ml for c in plausible_cases(case, None, "balance_24h_ml", "missing")]
        for case in (Case(Snapshot(NOW)), light)
    ]
    assert tried == [[6000, 0], [1200, 0]]


def test_urine_and_age_are_tried_at_their_extremes() -> None:
    case = Case(Snapshot(NOW))
    assert len(plausible_cases(case, None, "urine_ml_h", "missing")) == 2
    ages = [c.patient.age_years for c in plausible_cases(case, None, "age_years", "missing")]
    assert min(a for a in ages if a is not None) < 28 / 365
