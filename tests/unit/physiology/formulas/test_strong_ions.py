"""Strong ions: a load of buffer, and plasma mixed with a fluid."""

import pytest

from app.physiology.formulas.strong_ions import CHARGES, LOAD, MIXED


def test_gluconate_unused_counts_for_nothing() -> None:
    (part,) = LOAD.parts
    half = part.work(volume_l=1, difference=50, gluconate=20, used=0.5)
    assert half == pytest.approx(40)


def test_the_ph_found_gives_back_the_difference() -> None:
    sum_of, ph = CHARGES.parts[3].work, CHARGES.parts[4].work
    weak = {"albumin_g_l": 30, "phosphate_mmol_l": 1, "pco2_mmhg": 35}
    assert sum_of(ph=ph(difference=33, **weak), **weak) == pytest.approx(33, abs=1e-4)


def test_no_fluid_leaves_plasma_as_it_was() -> None:
    difference, ph, _ = (p.work(fluid_l=0, fluid_difference=0) for p in MIXED.parts)
    assert difference == 39
    assert ph == pytest.approx(7.4128, abs=0.0001)
