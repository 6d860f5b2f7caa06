"""Stages, percents and filtration rates beside a condition."""

import pytest

from app.intake.problems.grades import filtration_keys, graded, within_72_h


@pytest.mark.parametrize(
    ("key", "text", "keys"),
    [
        ("acute_kidney_injury", "aki stage 3", {"severe_kidney_failure"}),
        ("acute_kidney_injury", "aki stage 2", set()),
        ("chronic_kidney_disease", "ckd g4 a2", {"severe_kidney_failure"}),
        ("chronic_kidney_disease", "ckd iiia", set()), ("burns", "25 % tbsa", {"major_burns"}),
        ("burns", "8 %", set()), ("hyponatraemia", "acute hyponatraemia", {"acute_hyponatraemia"}),
    ],
)  # fmt: skip
def test_a_grade_says_how_bad(key: str, text: str, keys: set[str]) -> None:
    assert set(graded(key, text)) == keys


@pytest.mark.parametrize(
    ("text", "keys"),
    [
        ("egfr 22", {"kidney_disease", "severe_kidney_failure"}), ("egfr 45", {"kidney_disease"}),
        ("egfr > 60", set()), ("crcl 18 ml/min", {"kidney_disease", "severe_kidney_failure"}),
        ("creat clearance approx 50", {"kidney_disease"}), ("ckd 3", None),
    ],
)  # fmt: skip
def test_a_filtration_rate_says_how_the_kidneys_are(text: str, keys: set[str] | None) -> None:
    assert filtration_keys(text) == keys


@pytest.mark.parametrize(
    ("text", "recent"),
    [("pod 2", True), ("pod 5", False), ("3 days post op", True), ("2 weeks post op", False),
     ("2 / 52 post op", False), ("post op", True)],
)  # fmt: skip
def test_an_operation_counts_for_three_days(text: str, recent: bool) -> None:
    assert within_72_h(text) == recent
