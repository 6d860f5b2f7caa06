"""Acid and base."""

import pytest

from app.physiology.acid_base import (
    Plasma,
    anion_gap_mmol_l,
    bicarbonate_of,
    gap_for_albumin_mmol_l,
    ph_of,
    solve_ph,
)


def test_more_chloride_narrows_the_gap() -> None:
    assert anion_gap_mmol_l(140, 114, 18) < anion_gap_mmol_l(140, 104, 18)


def test_a_low_albumin_widens_the_corrected_gap() -> None:
    assert gap_for_albumin_mmol_l(10, 20) > 10
    assert gap_for_albumin_mmol_l(10, 40) == 10


def test_ph_and_bicarbonate_are_each_others_inverse() -> None:
    assert bicarbonate_of(ph_of(18, 33), 33) == pytest.approx(18)


def test_a_smaller_strong_ion_difference_is_more_acid() -> None:
    def ph(difference: float) -> float:
        return solve_ph(Plasma(difference, 40, 1, 40))

    assert ph(30) < ph(38) < ph(46)


def test_the_charges_fill_the_difference_at_the_ph_found() -> None:
    plasma = Plasma(38, 40, 1, 40)
    assert plasma.charge_meq_l(solve_ph(plasma)) == pytest.approx(38, abs=1e-4)


def test_a_fluid_of_plasmas_own_difference_only_thins_the_weak_acids() -> None:
    plasma = Plasma(38, 40, 1, 40)
    mixed = plasma.mixed(15, 5, 38)
    assert (mixed.strong_ion_difference_meq_l, mixed.albumin_g_l) == (38, 30)
    assert solve_ph(mixed) > solve_ph(plasma)
