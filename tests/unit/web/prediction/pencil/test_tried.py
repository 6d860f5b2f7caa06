"""What the curve has lost is what was given and is not there."""

from collections.abc import Callable

import pytest

from app.web.prediction.pencil.tried import Tried, when

Try = Callable[..., Tried]


def test_with_no_urine_nothing_is_lost(tried: Try) -> None:
    one = tried("lactated-ringers", urine_ml_h=0)
    assert one.passed_l(720) == pytest.approx(0, abs=1e-9)
    assert one.passed_salt_mmol(720) == pytest.approx(0, abs=1e-6)
    assert one.passed_words(720) == "nothing has been passed by 12 h"


def test_urine_that_was_typed_is_what_is_lost(tried: Try) -> None:
    one = tried("sodium-chloride-0.9", urine_ml_h=100)
    assert one.passed_l(720) == pytest.approx(1.2, rel=0.001)
    # 100 of sodium and 40 of potassium in each litre.
    assert one.passed_salt_mmol(720) == pytest.approx(168, rel=0.001)


def test_a_bag_over_before_the_curve_ends_is_seen_twice(tried: Try) -> None:
    assert tried("dextrose-5").moments == (240, 720)
    assert tried("dextrose-5", minutes=720).moments == (720,)


def test_of_a_bag_that_runs_on_only_what_is_in_counts(tried: Try) -> None:
    one = tried("sodium-chloride-0.9", minutes=1440)
    assert one.given_l == pytest.approx(0.5)
    assert one.salt_mmol == pytest.approx(77)
    assert one.rate_ml_h == pytest.approx(1000 / 24)


def test_between_its_steps_the_curve_is_a_straight_line(tried: Try) -> None:
    one = tried("dextrose-5")
    middle = one.at("sodium_mmol_l", 22.5)
    both = one.at("sodium_mmol_l", 15), one.at("sodium_mmol_l", 30)
    assert middle == pytest.approx(sum(both) / 2)
    assert one.change("sodium_mmol_l", 0) == 0


def test_times_are_told_in_minutes_below_an_hour() -> None:
    assert (when(20), when(90), when(240)) == ("20 min", "1.5 h", "4 h")
