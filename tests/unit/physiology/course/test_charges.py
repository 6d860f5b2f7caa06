"""The pH of many people at once is that of each one alone."""

import numpy as np
import pytest

from app.physiology.acid_base import Plasma, solve_ph
from app.physiology.course.charges import bicarbonate_at, ph_that_balances, weak_charge


@pytest.mark.parametrize("charge", [20.0, 30.0, 38.0, 50.0])
@pytest.mark.parametrize("pco2", [20.0, 40.0, 70.0])
def test_the_steps_find_what_bisection_finds(charge: float, pco2: float) -> None:
    (ph,) = ph_that_balances(*(np.array([x]) for x in (charge, 42.0, 1.1, pco2)))
    alone = solve_ph(Plasma(charge, 42.0, 1.1, pco2))
    assert ph == pytest.approx(alone, abs=1e-5)


def test_the_charges_at_that_ph_sum_to_the_gap() -> None:
    one = np.array([38.0])
    ph = ph_that_balances(one, one, one / 38, one)
    filled = bicarbonate_at(ph, one) + weak_charge(one, one / 38, ph)
    assert filled == pytest.approx(one)
