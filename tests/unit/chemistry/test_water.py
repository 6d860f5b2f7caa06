"""Electrolyte-free water."""

import pytest

from app.chemistry.composition import Composition
from app.chemistry.water import (
    diluted,
    electrolyte_free_water_edelman_l,
    electrolyte_free_water_l,
)

GLUCOSE_5 = Composition(glucose_g_l=50)
SALINE_3 = Composition(sodium_mmol_l=513, chloride_mmol_l=513)


def test_a_litre_of_glucose_water_is_a_litre_of_electrolyte_free_water() -> None:
    assert electrolyte_free_water_l(GLUCOSE_5, 1, 140) == 1
    assert electrolyte_free_water_edelman_l(GLUCOSE_5, 1, 140) == 1


def test_hypertonic_saline_takes_water_away() -> None:
    assert electrolyte_free_water_l(SALINE_3, 1, 140) < 0


def test_potassium_counts_as_salt() -> None:
    with_potassium = Composition(sodium_mmol_l=77, potassium_mmol_l=20, chloride_mmol_l=97)
    without = Composition(sodium_mmol_l=77, chloride_mmol_l=77)
    assert electrolyte_free_water_l(with_potassium, 1, 140) < electrolyte_free_water_l(
        without, 1, 140
    )


def test_a_fluid_on_edelmans_line_holds_no_free_water() -> None:
    isonatric = Composition(sodium_mmol_l=(140 + 23.8) / 1.03)
    assert electrolyte_free_water_edelman_l(isonatric, 2, 140) == pytest.approx(0)


def test_an_equal_volume_of_water_halves_every_concentration() -> None:
    half = diluted(SALINE_3, 0.5, 0.5)
    assert (half.sodium_mmol_l, half.chloride_mmol_l) == (256.5, 256.5)
