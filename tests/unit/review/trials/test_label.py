"""Beside a prediction stands how far off it was in groups like this, and how alike they are."""

from dataclasses import replace

import pytest

from app.review.trials.errors import NO_TRIAL
from app.review.trials.label import label_of
from app.review.trials.score import Point
from tests.unit.review.trials.test_errors import POINT as FITTED

SODIUM = "sodium_mmol_l"
POINT = replace(FITTED, held_out=True)


def said(*points: Point, dose: float = 20.0, minutes: float | None = None) -> str:
    return label_of(points, SODIUM, "saline", dose, minutes)


def test_the_label_counts_groups_and_not_moments() -> None:
    later = replace(POINT, row="a:NS@120", predicted=2.7)
    assert said(POINT, later) == (
        "In 1 published group (men, saline, at 1 h) it was off by 0.6 mmol/L on average; "
        "the change measured was 2.0."
    )
    assert said(POINT, replace(POINT, arm="b:NS")).startswith("In 2 published groups")


def test_one_figure_is_no_average() -> None:
    assert "off by 0.5 mmol/L;" in said(POINT)


def test_an_error_too_small_to_show_is_not_said_to_be_none() -> None:
    assert "off by under 0.1 mmol/L" in said(replace(POINT, predicted=2.0))


def test_a_side_to_which_it_errs_is_said() -> None:
    high = said(POINT, replace(POINT, arm="b:NS"))
    low = said(replace(POINT, predicted=1.0), replace(POINT, arm="b:NS", predicted=1.2))
    assert "on average, as a rule too high;" in high
    assert "as a rule too low;" in low
    assert "as a rule" not in said(POINT, replace(POINT, arm="b:NS", predicted=1.6))


def test_groups_that_set_the_model_are_named_as_such() -> None:
    fitted = replace(POINT, arm="b:NS", held_out=False)
    assert said(POINT, fitted).endswith("1 of them helped to set the model.")
    assert said(fitted).endswith("It helped to set the model.")
    both = said(fitted, replace(fitted, arm="c:NS"))
    assert both.endswith("All of them helped to set the model.")


def test_a_look_further_than_anybody_measured_is_said() -> None:
    assert "Nobody measured it later than 1 h." in said(POINT, minutes=240.0)
    assert "later than 30 min." in said(replace(POINT, minutes=30.0), minutes=240.0)
    assert "later than 1.5 h." in said(replace(POINT, minutes=90.0), minutes=240.0)
    assert "Nobody" not in said(POINT, minutes=70.0)


def test_a_difference_to_another_fluid_is_not_called_a_change() -> None:
    pair = replace(POINT, arm="b:NS", against="balanced fluid", measured=6.0, predicted=6.5)
    assert said(pair).endswith("the difference to another fluid measured was 6.0.")
    assert "the change measured was 2.0." in said(POINT, pair)


def test_where_no_such_dose_was_tried_the_nearest_is_told_as_another() -> None:
    assert said(POINT, dose=50.0).startswith(
        "No trial at this dose; it is known of less (15 to 40 mL/kg). "
        "In 1 published group (men, saline, at 1 h) it was off by 0.5 mmol/L"
    )
    assert "of more (15 to 40 mL/kg)" in said(POINT, dose=5.0)


def test_of_two_doses_as_near_the_larger_speaks() -> None:
    larger = replace(POINT, band=2, predicted=3.0)
    smaller = replace(POINT, band=0)
    assert "of more (40 to 80 mL/kg)" in said(smaller, larger)


def test_memory_speaks_only_where_nothing_was_seen_and_says_so() -> None:
    remembered = replace(POINT, seen=False, predicted=9.0)
    assert said(remembered).startswith("From memory alone: In 1 published group")
    assert "off by 0.5" in said(POINT, remembered)
    elsewhere = replace(POINT, band=2)
    assert said(elsewhere, remembered).startswith("No trial at this dose")


@pytest.mark.parametrize(
    ("quantity", "kind"),
    [("chloride_mmol_l", "saline"), (SODIUM, "balanced"), (SODIUM, None)],
)
def test_no_trial_is_said_where_none_is_like_it(quantity: str, kind: str | None) -> None:
    assert label_of([POINT], quantity, kind, 20.0) == NO_TRIAL  # type: ignore[arg-type]


def test_who_was_given_what_and_when_is_said() -> None:
    women = replace(
        POINT, arm="b:HS", population="healthy women", fluid="7.5% saline", minutes=10.0
    )
    assert "(healthy women, 7.5% saline, at 10 min, and men, saline, at 1 h)" in said(POINT, women)
    more = (replace(POINT, arm=f"{n}:NS", minutes=90.0) for n in "cd")
    assert said(POINT, women, *more).count("and 2 more)") == 1


def test_a_change_the_other_way_is_said_to_be_wrong() -> None:
    wrong = replace(POINT, arm="b:NS", measured=-2.0, predicted=0.6)
    assert "off by 2.6 mmol/L, in the wrong direction;" in said(wrong)
    assert "in the wrong direction in 1 of 2 figures" in said(POINT, wrong)
    assert "direction" not in said(POINT)
    assert "direction" not in said(replace(wrong, predicted=0.01))
