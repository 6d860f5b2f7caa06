import pytest

from app.review.ledger.need import need_of
from tests.unit.review.ledger.conftest import CaseOf


def test_an_adult_needs_25_to_30_ml_a_kg(case_of: CaseOf) -> None:
    need = need_of(case_of().patient)
    assert need.by_column["water_ml"] == pytest.approx((1750, 2100))
    assert need.by_column["sodium_mmol"] == pytest.approx((70, 70))


def test_a_frail_adult_needs_less_water(case_of: CaseOf) -> None:
    frail = {"age_years": 84, "weight_kg": 50, "conditions": ["frail"]}
    assert need_of(case_of(patient=frail).patient).by_column["water_ml"][1] <= 50 * 25


def test_a_child_needs_water_by_the_4_2_1_rule(case_of: CaseOf) -> None:
    child = {"age_years": 6, "weight_kg": 20}
    low, high = need_of(case_of(patient=child, setting="paediatric").patient).by_column["water_ml"]
    assert low <= 1440 <= high or low == pytest.approx(1500, rel=0.05)


@pytest.mark.parametrize(
    ("patient", "lack"),
    [
        ({"age_years": 60}, "no weight"),
        ({"age_years": 0.01, "weight_kg": 1.2, "conditions": ["preterm"]}, "born at term"),
    ],
)
def test_where_no_need_can_be_told_the_reason_stands_there(
    case_of: CaseOf, patient: dict[str, object], lack: str
) -> None:
    need = need_of(case_of(patient=patient).patient)
    assert not need.by_column
    assert lack in need.words
