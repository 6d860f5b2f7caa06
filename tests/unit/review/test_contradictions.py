"""Results that cannot both be right are asked about."""

import pytest

from app.review.contradictions import contradictions
from tests.unit.review.conftest import KCL_20, ReviewOf, maintenance, result

UNITS = {
    "ph": "",
    "pco2": "mmHg",
    "haemoglobin": "g/L",
    "haematocrit": "%",
    "osmolality": "mosm/kg",
}
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


@pytest.mark.parametrize(
    ("results", "names"),
    [
        ({"ph": 7.1, "pco2": 40, "bicarbonate": 24}, {"ph", "pco2", "bicarbonate"}),
        ({"haemoglobin": 120, "haematocrit": 20}, {"haemoglobin", "haematocrit"}),
        ({"sodium": 140, "chloride": 150, "bicarbonate": 24},
        {"sodium", "chloride", "bicarbonate"}),
        ({"potassium": 8.9, "calcium_total": 0.9}, {"potassium", "calcium_total"}),
        ({"osmolality": 290, "sodium": 112}, {"osmolality", "sodium"}),
        ({"ph": 7.25, "pco2": 30, "bicarbonate": 12.6}, set()),
        ({"haemoglobin": 120, "haematocrit": 36}, set()),
        ({"sodium": 120, "osmolality": 292, "glucose": 45}, set()),
    ],
)  # fmt: skip
def test_results_that_do_not_fit_each_other_are_told(
    review_of: ReviewOf, results: dict[str, float], names: set[str]
) -> None:
    rows = [result(name, value, UNITS.get(name, "mmol/L")) for name, value in results.items()]
    reviewed = review_of(maintenance("0.9% sodium chloride"), observations=rows, sex="male")
    told = [set(found.finding.figures) for found in contradictions(reviewed.case)]
    assert told == ([names] if names else [])


def test_blood_from_the_wrong_tube_is_asked_about_loudly_before_potassium(
    review_of: ReviewOf,
) -> None:
    rows = [result("potassium", 8.9), result("calcium_total", 0.9)]
    order = maintenance("0.9% sodium chloride", additives=KCL_20)
    reviewed = review_of(order, observations=rows, sex="male")
    assert [found.finding.level for found in contradictions(reviewed.case)] == ["warning"]
