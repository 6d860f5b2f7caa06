"""What runs beside the fluids and is not understood is never passed over."""

import pytest

from app.review.assess import Review
from app.review.unnamed import unnamed
from tests.unit.review.conftest import ReviewOf, maintenance

CALCIUM, PLAIN = "Hartmann's", "0.9% sodium chloride"


def said(review: Review) -> list[tuple[str, str]]:
    """Rule and level of each."""
    return [(found.rule.id, found.finding.level) for found in unnamed(review.case)]


def beside(review_of: ReviewOf, fluid: str, name: str, **more: object) -> Review:
    """Something of this name on the fluid's lumen."""
    order = maintenance(fluid, lumen="p1")
    return review_of(order, co_infusions=[{"name": name, "lumen": "p1", **more}])


@pytest.mark.parametrize(
    ("fluid", "name", "level"),
    [(CALCIUM, "study drug 10 mL/h", "info"), (CALCIUM, "cef 2 g", "warning"),
     (CALCIUM, "IV abx", "warning"), (PLAIN, "IV abx", "info"), (PLAIN, "inotropes", "info")],
)  # fmt: skip
def test_an_unclear_name_on_a_lumen_is_told_and_loud_where_it_may_be_ceftriaxone_with_calcium(
    review_of: ReviewOf, fluid: str, name: str, level: str
) -> None:
    review = beside(review_of, fluid, name)
    assert said(review) == [("order-ambiguous", level)]
    (found,) = unnamed(review.case)
    assert name in found.finding.summary and found.finding.do.startswith("Ask the prescriber")


def test_a_name_understood_or_on_another_line_or_alone_is_not_told(review_of: ReviewOf) -> None:
    assert said(beside(review_of, CALCIUM, "meropenem 1 g")) == []
    assert said(beside(review_of, CALCIUM, "study drug via separate line")) == []
    assert said(review_of(co_infusions=[{"name": "study drug"}])) == []


def test_in_a_newborn_another_line_does_not_part_an_unknown_antibiotic_from_calcium(
    review_of: ReviewOf,
) -> None:
    order = maintenance(CALCIUM, 5, lumen="p1")
    other = {"name": "IV abx", "lumen": "p2"}
    newborn = review_of(order, co_infusions=[other], age_years=0.02, weight_kg=3)
    assert said(newborn) == [("order-ambiguous", "warning")]
    assert said(review_of(order, co_infusions=[other])) == []
