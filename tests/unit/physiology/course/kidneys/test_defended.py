"""What kidneys defend, by what is on record."""

import numpy as np
import pytest

from app.physiology.course.body import Subject, subject_of
from app.physiology.course.kidneys.defended import Defended
from app.physiology.course.parameters import drawn
from app.physiology.course.state import begin

PEOPLE = drawn(400)


def defended(*conditions: str, keeps_water: bool | None = None, **results: float) -> Defended:
    subject: Subject = subject_of(
        weight_kg=70, age_years=30, sex="female", height_cm=170, results=results,
        conditions=frozenset(conditions),
    )  # fmt: skip
    return begin(subject, PEOPLE, keeps_water=keeps_water)[1].defends


def test_a_high_sodium_is_not_defended_and_a_low_one_is_not_mended_by_the_middle() -> None:
    normal = defended()
    assert defended(sodium=165).osmoles_l == pytest.approx(normal.osmoles_l)
    low = defended(sodium=115)
    assert (low.osmoles_l < normal.osmoles_l - 40).all()
    assert low.water[0] == 0 and low.wakes[0] == 0


def test_in_pregnancy_a_lower_sodium_is_normal() -> None:
    assert defended("pregnancy").sodium < defended().sodium


@pytest.mark.parametrize(
    ("conditions", "least", "most"),
    [(("hypovolaemia",), 0.2, 0.4), ((), 0.08, 0.2), (("heart_failure",), 0.0, 0.0)],
)
def test_some_of_those_low_in_sodium_wake(
    conditions: tuple[str, ...], least: float, most: float
) -> None:
    assert least <= defended(*conditions, sodium=110).wakes.mean() <= most


@pytest.mark.parametrize("sodium", [112.0, 140.0])
def test_whether_water_is_kept_may_be_said(sodium: float) -> None:
    kept, passed = (defended(sodium=sodium, keeps_water=keeps) for keeps in (True, False))
    assert not kept.water.any() and not kept.salt.any() and not kept.wakes.any()
    assert (passed.water == 1).all() and (passed.wakes == 1).all()


@pytest.mark.parametrize(
    "condition", ["siadh", "postoperative", "pain", "nausea", "pneumonia", "heart_failure"]
)
def test_next_to_no_water_is_passed_where_vasopressin_is_out(condition: str) -> None:
    found = defended(condition)
    assert 0 < found.water[0] <= 0.1
    assert np.percentile(found.water, 10) < 0.03


def test_salt_is_held_in_heart_failure_and_passed_not_at_all_in_shock() -> None:
    assert 0 < defended("heart_failure").salt[0] < 0.6
    assert not defended("septic_shock").salt.any()
    assert (defended("siadh").salt == 1).all()


def test_what_is_lacking_comes_first_in_the_dry() -> None:
    assert defended("dehydration").ecf_share > defended().ecf_share == 1
