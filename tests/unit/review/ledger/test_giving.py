import pytest

from app.patient.order import CoInfusion
from app.review.ledger.giving import giving_of, is_a_fluid, runs_all_day
from tests.unit.review.ledger.conftest import CaseOf


def infusion(case_of: CaseOf, words: str) -> CoInfusion:
    (other,) = case_of(infusions=(words,)).co_infusions
    return other


def test_a_dose_three_times_a_day_is_given_three_times(case_of: CaseOf) -> None:
    other = infusion(case_of, "meropenem 1 g in 100 mL sodium chloride 0.9% every 8 h")
    giving = giving_of(other, None, adult=True)
    assert giving.doses == 3
    assert giving.day_ml == pytest.approx(300)
    assert not giving.is_usual


def test_a_rate_with_no_end_runs_the_whole_day(case_of: CaseOf) -> None:
    other = infusion(case_of, "norepinephrine 4 mg in 50 mL 5% glucose at 5 mL/h")
    assert giving_of(other, None, adult=True).day_ml == pytest.approx(120)


def test_with_no_times_written_one_dose_is_counted_and_more_may_come(case_of: CaseOf) -> None:
    other = infusion(case_of, "cefuroxime 750 mg")
    giving = giving_of(other, None, adult=True)
    assert giving.more_may_come
    assert giving.day_ml is None


def test_what_is_written_as_continuous_runs_all_day(case_of: CaseOf) -> None:
    other = infusion(case_of, "furosemide 240 mg in 50 mL continuous at 2 mL/h")
    assert runs_all_day(other, None)


def test_a_fluid_named_as_it_is_is_told_from_a_drug(case_of: CaseOf) -> None:
    assert not is_a_fluid(infusion(case_of, "ceftriaxone 2 g in 100 mL 0.9% sodium chloride"))
