"""Sizes and usual results, from newborns to the very heavy."""

import pytest

from app.physiology.course.sizes import (
    age_from_weight,
    blood_from,
    blood_l,
    ecf_share,
    is_child,
    kidney_share,
    usual_haematocrit,
    usual_results,
    water_from,
    water_l,
)


# Friis-Hansen, Pediatrics 1961;28:169, from memory: L/kg outside cells.
@pytest.mark.parametrize(
    ("age", "kg", "low", "high"),
    [(0.005, 3.4, 0.38, 0.45), (0.17, 5, 0.28, 0.35), (0.75, 9, 0.26, 0.33), (4, 16, 0.20, 0.26),
     (30, 70, 0.19, 0.24)],
)  # fmt: skip
def test_the_younger_the_more_water_is_outside_cells(
    age: float, kg: float, low: float, high: float
) -> None:
    outside = ecf_share(age) * water_l(kg, age, None, None) / kg
    assert low <= outside <= high


def test_shares_fall_with_age_and_an_unknown_age_is_an_adults() -> None:
    shares = [ecf_share(age) for age in (0, 0.1, 0.5, 2, 10, 16, 80)]
    assert shares == sorted(shares, reverse=True)
    assert ecf_share(None) == ecf_share(40)


@pytest.mark.parametrize(
    ("age", "kg", "ml_kg"), [(0.01, 3.4, 85), (0.5, 7, 82), (6, 20, 75), (40, 70, 70)]
)
def test_blood_is_of_textbook_size(age: float, kg: float, ml_kg: float) -> None:
    assert 1000 * blood_l(kg, age, "male", None) / kg == pytest.approx(ml_kg, abs=2)


def test_blood_and_water_of_the_very_heavy_follow_their_height() -> None:
    assert blood_l(180, 50, "female", 165) < 0.065 * 180
    assert water_l(180, 50, "female", 165) < 0.5 * 180


def test_newborns_have_thick_blood_infants_thin_and_pregnancy_thins_it() -> None:
    newborn, infant, adult, pregnant = (
        usual_haematocrit(0.0, None, pregnant=False), usual_haematocrit(1.0, None, pregnant=False),
        usual_haematocrit(30, "female", pregnant=False),
        usual_haematocrit(30, "female", pregnant=True),
    )  # fmt: skip
    assert newborn > adult > infant and pregnant < adult


def test_usual_results_differ_for_the_newborn_and_in_pregnancy() -> None:
    newborn, pregnant = usual_results(0.0, pregnant=False), usual_results(30, pregnant=True)
    adult = usual_results(None, pregnant=False)
    assert newborn["albumin"] < adult["albumin"] and newborn["phosphate"] > adult["phosphate"]
    assert pregnant["bicarbonate"] < adult["bicarbonate"] and pregnant["pco2"] < adult["pco2"]
    assert set(newborn) == set(pregnant) == set(adult)


def test_the_newborns_and_the_old_pass_less() -> None:
    assert kidney_share(0) < 0.5 < kidney_share(0.5) < kidney_share(20) == 1
    assert kidney_share(80) < 0.7 and kidney_share(None) == 1


def test_a_small_weight_without_an_age_is_a_childs() -> None:
    assert age_from_weight(3.5) == 0 and age_from_weight(20) == 6
    assert age_from_weight(60) is None
    assert is_child(5) and not is_child(None) and not is_child(16)


@pytest.mark.parametrize("height", [None, 170])
def test_who_may_be_a_man_or_a_woman_is_midway(height: float | None) -> None:
    for size in (water_l, blood_l):
        man, woman, either = (size(70, 40, sex, height) for sex in ("male", "female", None))
        assert man > woman and either == pytest.approx((man + woman) / 2)
    assert usual_haematocrit(40, None, pregnant=False) == pytest.approx(0.42)


def test_words_say_what_a_size_is_worked_out_from() -> None:
    assert water_from(40, "male", 170) == "by age, height and weight"
    assert water_from(None, None, None) == (
        "no age or sex or height: a share of weight, midway between a man and a woman"
    )
    assert blood_from(40, "male", None) == "no height: a share of weight"
    assert blood_from(None, None, 170).startswith("no sex: by height and weight, midway")
    assert water_from(3, None, None) == blood_from(3, None, None)
