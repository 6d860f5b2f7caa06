"""What is said first of a bag: the worse of the curve, its ways and the formula, and no comfort
where one of them, or a rule, gives none.
"""

import pytest

from app.web.prediction.sodium.leads import Lead, both_ends, lead_of
from app.web.prediction.sodium.ways import Look, Way
from tests.unit.web.prediction.sodium.test_limits import limits
from tests.unit.web.prediction.sodium.test_reach import curve


def look(*mid: float, over: float = 0.0, by_hand: float = 0.0, mark: str = "") -> Look:
    return Look(mark, curve(*mid, over=over), by_hand_mmol_l=by_hand, by_hand_h=12)


def two_ways(drawn: tuple[float, ...], kept: tuple[float, ...], by_hand: float = 0.0) -> Look:
    ways = (
        Way("water passed", "if kidneys pass the water", curve(*drawn)),
        Way("water kept", "if they keep it", curve(*kept)),
    )
    return Look("", curve(*drawn), ways, by_hand_mmol_l=by_hand, by_hand_h=12)


def lead(sodium: float, one: Look, *, warned: bool = False) -> Lead:
    return lead_of(one, limits(sodium), warned=warned)


def test_a_limit_that_is_likely_passed_is_told_with_its_hour_and_its_value() -> None:
    found = lead(118, look(118, 124, 129))
    assert found.text == "Sodium is likely to pass +10 in 24 h (128) at about 12 h."
    assert (found.level, found.hours) == ("critical", 12)


def test_a_lower_limit_or_a_band_alone_is_a_warning() -> None:
    assert lead(118, look(118, 124, 127)).level == "warning"
    band = lead(118, look(118, 124, 125, over=2))
    assert band.text == (
        "Sodium may pass +8 in 24 h (126) at about 12 h: the end of its band does."
    )
    assert band.level == "warning"


def test_within_is_said_of_the_bag_alone_and_of_no_band() -> None:
    found = lead(118, look(118, 120, 121, by_hand=3))
    assert found.text == "Sodium by the bag alone: within +8 in 24 h."
    assert found.level is None
    assert lead(118, look(118, 121, mark="B", by_hand=2)).text.startswith("Sodium with B alone:")


@pytest.mark.parametrize("by_hand", [3.0, 13.0, -9.0])
def test_nothing_is_within_while_a_rule_warns(by_hand: float) -> None:
    found = lead(118, look(118, 120, by_hand=by_hand), warned=True)
    assert "within" not in found.text
    assert found.near


def test_a_warning_rule_is_named_beside_both_figures() -> None:
    found = lead(118, look(118, 120, by_hand=3), warned=True)
    assert found.text == (
        "Sodium: +2 in 24 h by the curve, +3 by hand. The rules warn all the same: go by them."
    )


def test_where_only_the_formula_passes_the_worse_is_taken() -> None:
    found = lead(165, look(165, 161.7, 164, by_hand=-13))
    assert found.text == (
        "Sodium by hand −13, by the curve −3: they disagree. Take it as a fall of 13, past −10 in "
        "24 h (155), until a sodium says otherwise."
    )
    assert found.level == "warning"
    assert found.near


def test_the_same_of_a_rise() -> None:
    found = lead(118, look(118, 119, 119, by_hand=11))
    assert "Take it as a rise of 11, past +10 in 24 h (128)" in found.text


def test_two_figures_far_apart_are_said_even_where_neither_passes() -> None:
    found = lead(158, look(158, 157, by_hand=-6))
    assert found.text == (
        "Sodium by hand −6, by the curve −1: they disagree. Take the larger until a sodium says "
        "otherwise."
    )
    assert found.near


def test_a_fluid_that_lowers_a_low_sodium_has_no_word_of_the_limit_of_a_rise() -> None:
    found = lead(118, two_ways((118, 116, 116), (118, 113, 109), by_hand=-7))
    assert found.text == (
        "Sodium falls from 118 to 116 by 24 h if kidneys pass the water, to 109 if they keep it. "
        "Do not give it for a low sodium."
    )
    assert "+8" not in found.text
    assert (found.level, found.falls) == ("critical", True)


def test_a_fall_that_the_formula_makes_deeper_is_taken_by_the_formula() -> None:
    found = lead(118, look(118, 116, by_hand=-8))
    assert "By hand 110: take that until a sodium says otherwise." in found.text


def test_a_usual_sodium_that_may_fall_is_told_by_both_ways() -> None:
    found = lead(132, two_ways((132, 129), (132, 118), by_hand=-13))
    assert found.text.startswith("Sodium falls from 132 to 129 by 24 h if kidneys pass the water")
    assert found.level == "warning"
    assert found.near


def test_a_usual_sodium_with_nothing_to_fear_is_not_spoken_of() -> None:
    assert lead(140, look(140, 138.5, by_hand=-2)).text == ""


def test_a_high_sodium_that_rises_has_no_word_of_the_limit_of_a_fall() -> None:
    found = lead(160, look(160, 164, by_hand=5))
    assert found.text == "Sodium rises from 160 to 164 by 24 h: it does not come down."


def test_a_way_that_passes_is_told_though_the_curve_does_not() -> None:
    ways = (
        Way("urine salty", "if urine is salty", curve(120, 120, 120)),
        Way("urine dilute", "if it is dilute", curve(120, 125, 131)),
    )
    found = lead(120, Look("", curve(120, 120, 120), ways))
    assert found.text == (
        "Sodium is likely to pass +10 in 24 h (130) at about 12 h if urine is dilute. By 24 h: 120 "
        "if urine is salty, 131 if it is dilute."
    )
    assert found.hours == 12


def test_both_ends_are_told_where_there_are_two() -> None:
    assert both_ends(look(118, 120)) == ""
    assert both_ends(two_ways((131, 129), (131, 126))) == (
        "By 24 h: 129 if kidneys pass the water, 126 if they keep it."
    )
