"""A dose never goes through the lumen of a drug whose surge harms, whatever chemistry allows."""

import pytest

from app.review.lines.bedside.doing.surge import SURGE, surge_harms
from app.review.lines.bedside.planned import plan_bedside
from app.review.lines.bedside.problem import Means, bedside_of
from tests.unit.review.lines.bedside.conftest import CEFTRIAXONE, PRESSOR, CaseOf

INSULIN = {"name": "insulin 3 units/h", "kind": "drug"}


def magnesium(minutes: int) -> dict[str, str]:
    """Which may share a lumen with norepinephrine and with insulin, as far as salts go."""
    return {"name": f"magnesium sulfate 4 g over {minutes} min", "kind": "drug"}


@pytest.mark.parametrize(
    ("drug", "minutes", "apart"),
    [(PRESSOR, 30, True), (PRESSOR, 60, True), (PRESSOR, 61, False),
     (INSULIN, 30, True), (INSULIN, 31, False)],
)  # fmt: skip
def test_a_dose_is_kept_from_the_lumen_by_how_long_it_takes(
    case_of: CaseOf, means: Means, drug: dict[str, str], minutes: int, *, apart: bool
) -> None:
    bedside = bedside_of(case_of(co=[drug, magnesium(minutes)]), means)
    assert [pair.why.startswith(SURGE) for pair in bedside.apart] == [True] * apart


def test_the_plan_asks_for_a_cannula_rather_than_push_norepinephrine(
    case_of: CaseOf, means: Means
) -> None:
    made = plan_bedside(case_of(co=[PRESSOR, magnesium(30)]), means)
    plan = made.found.solution.plan
    assert plan is not None
    assert plan.extra_cannulas == 1


@pytest.mark.parametrize(
    ("order", "apart"),
    [
        ({"volume_ml": 500, "rate_ml_h": 1000, "purpose": "resuscitation"}, True),
        ({"volume_ml": 100, "rate_ml_h": 100}, True),
        # What is left of a bag that has run for hours is no bolus.
        ({"volume_ml": 1000, "rate_ml_h": 100, "duration_h": 10,
          "starts_at": "2031-03-03T21:30:00Z", "purpose": "replacement"}, False),
        ({"volume_ml": 50, "rate_ml_h": 50, "purpose": "carrier"}, False),
    ],
)  # fmt: skip
def test_a_bolus_is_kept_from_it_and_the_rest_of_a_bag_is_not(
    case_of: CaseOf, means: Means, order: dict[str, object], *, apart: bool
) -> None:
    fluid = {"id": "o1", "fluid": "5% dextrose", **order}
    bedside = bedside_of(case_of(fluid, co=[PRESSOR]), means)
    assert any(pair.why.startswith(SURGE) for pair in bedside.apart) == apart


def test_which_drugs_harm_by_a_surge(case_of: CaseOf) -> None:
    case = case_of({"id": "o1", "fluid": "5% dextrose", "rate_ml_h": 40},
                   co=[PRESSOR, INSULIN, CEFTRIAXONE])  # fmt: skip
    assert [surge_harms(one) for one in (*case.co_infusions, *case.orders)] == [
        True, True, False, False,
    ]  # fmt: skip
