"""What the curve has lost is what was given and is not there."""

from collections.abc import Callable

import pytest

from app.chemistry.composition import Composition
from app.physiology.course.loads import Load, Loss
from app.web.prediction.pencil.tried import Tried, when

Try = Callable[..., Tried]


def test_with_no_urine_nothing_is_lost(tried: Try) -> None:
    one = tried("lactated-ringers", losses=(Loss("urine", 0),))
    assert one.lost_l(720) == pytest.approx(0, abs=1e-9)
    assert one.lost_mmol(720) == pytest.approx(0, abs=1e-6)
    assert one.lost_words(720) == "nothing has been lost by 12 h"


def test_urine_that_was_typed_is_what_is_lost(tried: Try) -> None:
    one = tried("sodium-chloride-0.9", losses=(Loss("urine", 100),))
    assert one.lost_l(720) == pytest.approx(1.2, rel=0.001)
    # 100 of sodium and 40 of potassium in each litre.
    assert one.lost_mmol(720) == pytest.approx(168, rel=0.001)


def test_a_bag_over_before_the_curve_ends_is_seen_twice(tried: Try) -> None:
    assert tried("dextrose-5").moments == (240, 720)
    assert tried("dextrose-5", minutes=720).moments == (720,)


def test_of_a_bag_that_runs_on_only_what_is_in_counts(tried: Try) -> None:
    one = tried("sodium-chloride-0.9", minutes=1440)
    assert one.given_l == pytest.approx(0.5)
    assert one.in_mmol(one.end_min) == pytest.approx(77)
    assert one.rate_ml_h == pytest.approx(1000 / 24)


def test_between_its_steps_the_curve_is_a_straight_line(tried: Try) -> None:
    one = tried("dextrose-5")
    middle = one.at("sodium_mmol_l", 22.5)
    both = one.at("sodium_mmol_l", 15), one.at("sodium_mmol_l", 30)
    assert middle == pytest.approx(sum(both) / 2)
    assert one.change("sodium_mmol_l", 0) == 0


def test_times_are_told_in_minutes_below_an_hour() -> None:
    assert (when(20), when(90), when(240)) == ("20 min", "1.5 h", "4 h")


SALINE = Composition(sodium_mmol_l=154, chloride_mmol_l=154)


def test_what_else_runs_is_given_too_and_is_said(tried: Try) -> None:
    other = Load(SALINE, 0.5, 240, 60)
    one = tried("dextrose-5", beside=(other,), losses=(Loss("urine", 0),))
    assert one.in_l(240) == 1
    assert one.in_l(720) == 1.5
    assert one.in_mmol(720) == pytest.approx(77)
    assert one.lost_l(720) == pytest.approx(0, abs=1e-9)
    assert one.beside_words(240) == ""
    assert one.beside_words(720) == "The curve has 500 mL of other infusions in by 12 h."


def test_losses_told_carry_their_own_salt_and_blood_that_of_plasma(tried: Try) -> None:
    losses = (Loss("urine", 100, 30, 20), Loss("gastric", 50), Loss("blood", 60))
    one = tried("sodium-chloride-0.9", losses=losses)
    plasma_l = 0.06 * (1 - one.subject.haematocrit)
    assert one.told_l(60) == pytest.approx(0.15 + plasma_l)
    assert one.told_mmol(60) == pytest.approx(0.1 * 50 + 0.05 * 70 + plasma_l * 144.2)
    assert one.lost_l(60) == pytest.approx(one.told_l(60), rel=0.02)


def test_insulin_that_runs_is_known(tried: Try) -> None:
    syringe = Load(SALINE, 0.05, 0, 600, insulin_units=50)
    assert tried("dextrose-5", beside=(syringe,)).insulin
    assert not tried("dextrose-5").insulin
