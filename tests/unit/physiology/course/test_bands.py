"""The band about a prediction."""

import numpy as np
import pytest

from app.chemistry.composition import Composition
from app.physiology.course.bands import bands_of, spread_sd, stirred_by
from app.physiology.course.loads import Load, Loss
from app.physiology.course.parameters import SPREADS, STIRRED

FLAT = np.array([4.0, 4.0, 4.0])
RISING = np.array([4.0, 4.3, 5.0])


def test_nothing_moved_sets_nobody_apart() -> None:
    assert spread_sd("potassium_mmol_l", FLAT, np.zeros(3)) == pytest.approx(0)


def test_the_spread_grows_with_the_change_and_with_what_has_run() -> None:
    by_change = spread_sd("potassium_mmol_l", RISING, np.zeros(3))
    by_volume = spread_sd("potassium_mmol_l", FLAT, np.array([0.0, 0.02, 0.2]))
    most = SPREADS["potassium_mmol_l"].sd
    for spread in (by_change, by_volume):
        assert spread[0] == 0 and (np.diff(spread) > 0).all() and spread[-1] <= most
    at_two_thirds = spread_sd("ph", FLAT, np.array([STIRRED]))
    assert at_two_thirds[0] == pytest.approx(0.632 * SPREADS["ph"].sd, rel=1e-3)


def test_the_spread_of_a_volume_is_a_share_of_its_start() -> None:
    small, large = (
        spread_sd("plasma_volume_ml", np.array([ml, 1.1 * ml]), np.zeros(2)) for ml in (300, 3000)
    )
    assert large == pytest.approx(10 * small)


def test_what_runs_in_and_what_is_lost_both_stir() -> None:
    load = Load(Composition(), 1.0, 0, 60)
    stirred = stirred_by([load], [Loss("urine", 100)], (0, 30, 60, 120), 10.0)
    assert stirred == pytest.approx([0, 0.055, 0.11, 0.12])


def test_a_band_holds_its_middle_and_no_negative_amount() -> None:
    people = np.full((2, 100), 0.1)
    seen = {"lactate_mmol_l": people, "ph": people + 7}
    band = bands_of(seen, np.array([0.0, 1.0]))["lactate_mmol_l"]
    assert band.low[0] == band.high[0] == pytest.approx(0.1)
    assert 0 <= band.low[1] <= band.mid[1] <= band.high[1] and band.high[1] > 0.2


def test_four_of_five_drawn_lie_in_the_band() -> None:
    band = bands_of({"ph": np.full((2, 4000), 7.4)}, np.array([0.0, 100.0]))["ph"]
    half = (band.high[1] - band.low[1]) / 2
    assert half == pytest.approx(1.28 * SPREADS["ph"].sd, rel=0.05)
