"""The limits of a day stand where they are counted from, and the formula beside the curve."""

from datetime import date

import pytest

from app.catalogue.catalogue import Catalogue
from app.cautions.limits import limits_in_force
from app.cautions.registry import RULES
from app.physiology.course.body import Subject, subject_of
from app.web.pictures.curves import Curve, Result
from app.web.prediction.asked import Bag
from app.web.prediction.sodium import (
    DayLimits,
    day_limits,
    formulas,
    meeting_words,
    meets_h,
    next_sample,
)


def subject(sodium: float) -> Subject:
    return subject_of(
        weight_kg=70, age_years=50, sex="male", height_cm=None,
        results={"sodium": sodium, "chloride": sodium - 36},
    )  # fmt: skip


def limits(sodium: float, *measured: Result) -> DayLimits:
    return day_limits(subject(sodium), measured, limits_in_force(RULES, (), on=date.min))


def curve(*high: float) -> Curve:
    hours = tuple(float(h) for h in range(len(high)))
    return Curve("A", hours, high, high, high)


def test_a_low_sodium_may_rise_eight_then_ten_from_where_it_is() -> None:
    found = limits(116)
    assert [(b.words, b.value) for b in found.bounds] == [
        ("+8 in 24 h", 124), ("+10 in 24 h", 126)
    ]  # fmt: skip
    assert found.note == ""


def test_what_has_risen_already_counts_until_its_day_is_over() -> None:
    lowest = Result(-10, 112, "measured 112 mmol/L, 21:00")
    found = limits(116, Result(-30, 108, "two days ago"), lowest)
    assert [b.value for b in found.bounds] == [120, 122]
    assert (found.bounds[0].from_h, found.bounds[0].to_h) == (-10, 14)
    assert "21:00" in found.counted_from


def test_a_high_sodium_may_fall_ten() -> None:
    found = limits(158)
    assert [(b.words, b.value) for b in found.bounds] == [("−10 in 24 h", 148)]
    assert found.rule_id == "na-fall-forecast"


def test_limits_beside_a_normal_sodium_say_whom_they_are_meant_for() -> None:
    assert "under 130" in limits(140).note


def test_the_moment_a_band_meets_a_limit_is_told() -> None:
    found = limits(116)
    rising = curve(116, 120, 124, 125)
    assert meets_h(rising, found.bounds[0], 1) == 2
    assert meets_h(rising, found.bounds[1], 1) is None
    assert meeting_words([rising], found) == ("A: the band reaches +8 in 24 h at about 2 h.",)
    falling = limits(158)
    assert meets_h(curve(158, 150, 147), falling.bounds[0], -1) == 2


def test_the_next_sample_is_told_where_sodium_is_far_out_or_meets_a_limit() -> None:
    assert "within 4 h" in next_sample(subject(116), [curve(116, 117)], limits(116))
    assert "within 1 h" in next_sample(subject(116), [curve(116, 120, 124)], limits(116))
    assert "within 0.5 h" in next_sample(subject(116), [curve(126, 126)], limits(116))
    assert next_sample(subject(140), [curve(140, 141)], limits(140)) == ""


def test_the_bedside_formula_gives_a_litre_and_the_volume(catalogue: Catalogue) -> None:
    strong = catalogue.get("sodium-chloride-3")
    assert strong is not None
    (one,) = formulas([Bag("A", strong, 0)], 500, subject(116))
    # (513 − 116) over 42 L of body water and the litre, by hand 9.23; half a litre 4.67.
    assert one.per_litre == "+9.2"
    assert one.whole == "+4.7"


def test_water_lowers_sodium_with_a_true_minus(catalogue: Catalogue) -> None:
    water = catalogue.get("glucose-5")
    assert water is not None
    (one,) = formulas([Bag("A", water, 0)], 1000, subject(140))
    assert one.per_litre == one.whole
    assert one.per_litre.startswith("−3.")
    assert float(one.per_litre.replace("−", "-")) == pytest.approx(-140 / 43, abs=0.06)
