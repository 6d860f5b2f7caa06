"""How far off it was, as figures and as a label beside a prediction."""

from dataclasses import replace

import pytest

from app.review.trials.errors import (
    BARS,
    NO_TRIAL,
    QUANTITIES,
    by_quantity,
    error_of,
    label_of,
)
from app.review.trials.score import Point

POINT = Point(
    row="a:NS@60", study="a", arm="a:NS", citation="A", population="men", people=9,
    fluid="saline", kind="saline", band=1, dose=30.0, minutes=60.0, quantity="sodium_mmol_l",
    measured=2.0, predicted=2.5, held_out=False, seen=True, assumed="", notes="",
)  # fmt: skip


def test_the_error_is_the_mean_distance_whatever_its_sign() -> None:
    error = error_of([POINT, replace(POINT, arm="b:NS", measured=-2.0, predicted=-3.5)])
    assert error is not None
    assert (error.points, error.groups, error.off, error.still) == (2, 2, 1.0, 2.0)
    assert error_of([]) is None


def test_the_label_counts_groups_and_not_moments() -> None:
    points = [POINT, replace(POINT, row="a:NS@120", predicted=2.7)]
    said = label_of(points, "sodium_mmol_l", "saline", 20.0)
    assert said == (
        "In 1 published group given such a fluid and dose it was off by 0.6 mmol/L on average."
    )
    two = [POINT, replace(POINT, arm="b:NS")]
    assert label_of(two, "sodium_mmol_l", "saline", 20.0).startswith("In 2 published groups")


def test_one_figure_is_no_average() -> None:
    said = label_of([POINT], "sodium_mmol_l", "saline", 20.0)
    assert said.endswith("off by 0.5 mmol/L.")


def test_an_error_too_small_to_show_is_not_said_to_be_none() -> None:
    exact = replace(POINT, predicted=2.0)
    assert "off by under 0.1 mmol/L" in label_of([exact], "sodium_mmol_l", "saline", 20.0)


@pytest.mark.parametrize(
    ("quantity", "kind", "dose"),
    [
        ("chloride_mmol_l", "saline", 20.0),
        ("sodium_mmol_l", "balanced", 20.0),
        ("sodium_mmol_l", "saline", 10.0),
        ("sodium_mmol_l", None, 20.0),
        ("glucose_mmol_l", "dextrose", 20.0),
    ],
)
def test_no_trial_is_said_where_none_is_like_it(
    quantity: str, kind: str | None, dose: float
) -> None:
    assert label_of([POINT], quantity, kind, dose) == NO_TRIAL  # type: ignore[arg-type]


def test_a_row_from_memory_does_not_speak() -> None:
    remembered = replace(POINT, seen=False)
    assert label_of([remembered], "sodium_mmol_l", "saline", 20.0) == NO_TRIAL


def test_every_bar_is_of_a_quantity_with_a_name() -> None:
    assert set(BARS) <= set(QUANTITIES)


def test_quantities_without_a_point_are_left_out() -> None:
    assert by_quantity([POINT]) == {"sodium_mmol_l": [POINT]}
