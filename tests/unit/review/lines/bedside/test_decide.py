"""Pairs that a named person may settle, each with the plan that follows."""

from app.review.lines.bedside.decide import decisions_of
from app.review.lines.bedside.planned import plan_bedside
from app.review.lines.bedside.problem import Means
from tests.unit.review.lines.bedside.conftest import (
    CALCIUM_FLUID,
    PRESSOR,
    RED_CELLS,
    TWO,
    CaseOf,
)


def test_what_nobody_has_told_us_of_may_be_settled(case_of: CaseOf, means: Means) -> None:
    made = plan_bedside(case_of(CALCIUM_FLUID, co=[PRESSOR]), means)
    (one,) = decisions_of(made.bedside, made.found.solution)
    assert one.change.startswith("Compound sodium lactate with norepinephrine: a pharmacist")
    assert one.why == "nobody has told us of these two"


def test_what_is_known_to_harm_is_no_ones_to_settle(case_of: CaseOf, means: Means) -> None:
    bolus = CALCIUM_FLUID | {"purpose": "resuscitation", "rate_ml_h": 160}
    made = plan_bedside(case_of(bolus, co=[RED_CELLS]), means)
    assert not made.found.solution.feasible
    assert list(decisions_of(made.bedside, made.found.solution)) == []


def test_nothing_is_to_be_settled_where_the_lumens_suffice(case_of: CaseOf, means: Means) -> None:
    made = plan_bedside(case_of(CALCIUM_FLUID, co=[PRESSOR], access=TWO), means)
    assert made.found.solution.feasible
    assert list(decisions_of(made.bedside, made.found.solution)) == []
