"""Size of a body: women's forms against men's, and plasma inside blood."""

import pytest

from app.physiology.formulas.body import BLOOD, CLEARANCE, WEIGHTS


def test_a_womans_ideal_weight_is_four_and_a_half_kilograms_below() -> None:
    man, woman = (part.work(height_cm=170) for part in WEIGHTS.parts[:2])
    assert man - woman == pytest.approx(4.5)


def test_a_womans_clearance_is_85_percent_of_a_mans() -> None:
    man, woman = (
        part.work(age_years=50, weight_kg=70, creatinine_umol_l=90) for part in CLEARANCE.parts
    )
    assert woman == pytest.approx(0.85 * man)


def test_a_womans_blood_is_less_than_a_mans_of_her_size() -> None:
    man, woman = (part.work(height_cm=170, weight_kg=65) for part in BLOOD.parts[:2])
    assert woman < man
    assert BLOOD.parts[2].work(blood_l=man, haematocrit=0.45) == pytest.approx(0.55 * man)
