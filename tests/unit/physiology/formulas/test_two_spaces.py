"""Two spaces that trade fluid."""

from itertools import pairwise

import pytest

from app.physiology.formulas.two_spaces import Infused, RateConstants, Spaces, excess_ml

BAG = Infused(1000, 30)


@pytest.mark.parametrize(
    "spaces", [RateConstants(0.01, 0.07, 0.025), Spaces(5900, 9100, 94, 200, 0.8)]
)
@pytest.mark.parametrize(("at_min", "given"), [(0.05, 5 / 3), (20, 2000 / 3), (200, 1000)])
def test_what_is_given_is_somewhere(
    spaces: RateConstants | Spaces, at_min: float, given: float
) -> None:
    assert sum(excess_ml(spaces, BAG, at_min)) == pytest.approx(given)


def test_with_nothing_passed_plasma_settles_at_its_share() -> None:
    plasma, tissue, passed = excess_ml(RateConstants(0, 0.06, 0.02), BAG, 600)
    # At rest what leaves plasma comes back: 0.06 of plasma's is 0.02 of tissue's.
    assert (plasma, tissue, passed) == pytest.approx((250, 750, 0), abs=0.01)


def test_the_first_space_is_fullest_as_the_bag_ends() -> None:
    spaces = Spaces(5900, 9100, 94, 200, 0.8)
    plasma = [excess_ml(spaces, BAG, at)[0] for at in (10, 20, 30, 45, 60)]
    assert max(plasma) == plasma[2]
    assert all(later < sooner for sooner, later in pairwise(plasma[2:]))
