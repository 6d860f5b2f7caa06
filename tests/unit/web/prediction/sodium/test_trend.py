"""Results come before the curve: where they move faster, they are to be believed."""

import pytest

from app.web.pictures.curves import Result
from app.web.prediction.sodium.trend import trend_words
from tests.unit.web.prediction.sodium.test_limits import limits, person
from tests.unit.web.prediction.sodium.test_reach import curve


def words(results: list[tuple[float, float]], now: float, *mid: float) -> str:
    measured = tuple(Result(at, value, "measured") for at, value in results)
    return trend_words(limits(now, person(measured=measured)), curve(now, *mid))


def test_a_rise_that_the_curve_does_not_see_is_believed() -> None:
    said = words([(-12, 115), (-2, 119)], 119, 119, 119)
    assert said.startswith(
        "Sodium has risen 0.4 mmol/L an hour between its last two results; the curve says it "
        "stands still. Believe the results."
    )


def test_the_hour_at_which_a_limit_is_passed_at_that_pace_is_told() -> None:
    said = words([(-12, 116), (-2, 121)], 121, 121, 121)
    # From 116 at most 126; at 0.5 an hour from 121 it reads as more at 126.5.
    assert said.endswith("At that pace it passes +10 in 24 h (126) in 11 h.")


@pytest.mark.parametrize(
    ("results", "now", "mid"),
    [
        ([(-2, 119)], 119, (119, 119)),
        ([(-4, 118.8), (-2, 119)], 119, (119, 119)),
        ([(-3, 118), (-2, 119)], 119, (119, 119)),
        ([(-20, 112), (-14, 119)], 119, (119, 119)),
        ([(-8, 117), (-2, 119)], 119, (121, 123)),
    ],
    ids=["one result", "slow", "too near", "old", "the curve goes as fast"],
)
def test_nothing_is_said_where_results_say_no_more(
    results: list[tuple[float, float]], now: float, mid: tuple[float, ...]
) -> None:
    assert words(results, now, *mid) == ""


def test_a_fall_against_a_curve_that_rises_is_said() -> None:
    said = words([(-8, 159), (-2, 156)], 156, 157, 158)
    assert "has fallen 0.5 mmol/L an hour" in said
