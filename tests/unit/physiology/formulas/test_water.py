"""Water: shares add up to the litre, and a salt-free fluid is water by every form."""

import pytest

from app.physiology.formulas.water import BODY_WATER, COMPARTMENTS, FREE_WATER


@pytest.mark.parametrize("free", [-2.5, 0, 0.3, 1])
def test_the_three_shares_are_the_litre(free: float) -> None:
    shares = [part.work(volume_l=1, free_water=free) for part in COMPARTMENTS.parts]
    assert sum(shares) == pytest.approx(1000)


def test_potassium_counts_as_sodium_does() -> None:
    for part in FREE_WATER.parts:
        both = [
            part.work(sodium_mmol_l=na, potassium_mmol_l=k, volume_l=1, plasma_sodium_mmol_l=140)
            for na, k in ((80, 0), (40, 40))
        ]
        assert both[0] == both[1] < 1


def test_a_mans_body_water_is_above_a_womans_of_the_same_size() -> None:
    man, woman = (part.work for part in BODY_WATER.parts)
    assert man(age_years=40, height_cm=170, weight_kg=70) > woman(height_cm=170, weight_kg=70)
