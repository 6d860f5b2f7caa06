"""Results that cannot both be right are asked about."""

from app.review.contradictions import contradictions
from tests.unit.review.conftest import KCL_20, ReviewOf, maintenance, result

BOTH = [
    result("creatinine", 90, "umol/L"), result("egfr", 12, "mL/min/1.73 m2"),
    result("potassium", 4.1),
]  # fmt: skip


def test_a_good_creatinine_beside_a_bad_egfr_is_asked_about_before_potassium(
    review_of: ReviewOf,
) -> None:
    order = maintenance("0.9% sodium chloride", additives=KCL_20)
    reviewed = review_of(order, observations=BOTH, sex="male")
    said = [f.finding for f in reviewed.all_found if f.rule.id == "data-suspect"]
    assert [finding.level for finding in said] == ["warning"]
    assert "eGFR 12, if true: creatinine 90 µmol/L means about 8" in said[0].why
    renal = next(f.finding for f in reviewed.all_found if f.rule.id == "k-renal")
    assert renal.level == "warning"
    assert "if true" in renal.summary


def test_it_is_only_mentioned_where_no_order_is_judged_by_the_kidneys(review_of: ReviewOf) -> None:
    reviewed = review_of(maintenance("0.9% sodium chloride"), observations=BOTH, sex="male")
    assert [found.finding.level for found in contradictions(reviewed.case)] == ["info"]


def test_figures_that_agree_are_not_asked_about(review_of: ReviewOf) -> None:
    reviewed = review_of(maintenance("0.9% sodium chloride"), observations=BOTH[:1], sex="male")
    assert not list(contradictions(reviewed.case))
