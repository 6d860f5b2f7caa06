"""Sodium: the forms agree with each other."""

import pytest

from app.physiology.formulas.sodium import CHANGE_BY_BALANCE, CHANGE_BY_VOLUME, FOR_GLUCOSE


def test_the_exact_volume_brings_the_change_and_the_litres_answer_overshoots_it() -> None:
    change, exact, scaled = (part.work for part in CHANGE_BY_VOLUME.parts)
    fluid = {"infusate_mmol_l": 513, "sodium_mmol_l": 112, "body_water_l": 23}
    litres = exact(change_mmol_l=3, **fluid)
    assert change(volume_l=litres, **fluid) == pytest.approx(3)
    assert change(volume_l=scaled(change_mmol_l=3, **fluid), **fluid) > 3


def test_the_change_by_a_balance_is_the_sodium_after_less_before() -> None:
    change, after, _ = (part.work for part in CHANGE_BY_BALANCE.parts)
    balance = {"sodium_mmol_l": 120, "body_water_l": 30, "salt_gain_mmol": 50, "water_gain_l": -1}
    assert change(**balance) == pytest.approx(after(**balance) - 120)


def test_a_normal_glucose_corrects_nothing_by_either_factor() -> None:
    for part in FOR_GLUCOSE.parts:
        assert part.work(sodium_mmol_l=135, glucose_mmol_l=5) == 135
