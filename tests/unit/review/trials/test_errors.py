"""How far off it was, as figures and as a label beside a prediction."""

from dataclasses import replace

import pytest

from app.review.trials.errors import (
    BARS,
    QUANTITIES,
    by_quantity,
    error_of,
)
from app.review.trials.score import Point

POINT = Point(
    row="a:NS@60", study="a", arm="a:NS", citation="A", population="men", people=9,
    fluid="saline", against="", kind="saline", band=1, dose=30.0, minutes=60.0,
    quantity="sodium_mmol_l", measured=2.0, predicted=2.5, low=None, high=None, held_out=False,
    viewed=False, seen=True, assumed="", notes="",
)  # fmt: skip


def test_the_error_is_the_mean_distance_whatever_its_sign() -> None:
    error = error_of([POINT, replace(POINT, arm="b:NS", measured=-2.0, predicted=-3.5)])
    assert error is not None
    assert (error.points, error.groups, error.off, error.still) == (2, 2, 1.0, 2.0)
    assert error_of([]) is None


def test_a_mean_to_one_side_is_kept_with_its_sign() -> None:
    low = [replace(POINT, predicted=1.0), replace(POINT, arm="b:NS", predicted=1.6)]
    error = error_of(low)
    assert error is not None
    assert error.bias == pytest.approx(-0.7)
    assert error.one_sided
    to_both = error_of([replace(POINT, predicted=1.0), replace(POINT, arm="b:NS", predicted=2.8)])
    assert to_both is not None
    assert not to_both.one_sided


def test_one_group_shows_no_side_and_neither_does_a_hit() -> None:
    alone = error_of([POINT, replace(POINT, row="a:NS@120")])
    hit = error_of([replace(POINT, arm=arm, predicted=2.0) for arm in "ab"])
    assert alone is not None and hit is not None
    assert not alone.one_sided
    assert not hit.one_sided


def test_the_share_inside_the_band_is_of_points_that_have_one() -> None:
    banded = [replace(POINT, low=1.0, high=3.0), replace(POINT, low=2.1, high=3.0), POINT]
    error = error_of(banded)
    assert error is not None
    assert error.inside == 0.5
    without = error_of([POINT])
    assert without is not None
    assert without.inside is None


def test_groups_that_set_the_model_are_counted_apart() -> None:
    error = error_of([POINT, replace(POINT, arm="b:NS", held_out=True)])
    assert error is not None
    assert (error.groups, error.fitted) == (2, 1)


def test_every_bar_is_of_a_quantity_with_a_name() -> None:
    assert set(BARS) <= set(QUANTITIES)


def test_quantities_without_a_point_are_left_out() -> None:
    assert by_quantity([POINT]) == {"sodium_mmol_l": [POINT]}
