"""Bicarbonate equivalents."""

import pytest

from app.chemistry.bicarbonate import bicarbonate_equivalents_mmol
from app.chemistry.composition import Composition

ACETATE_GLUCONATE = Composition(
    sodium_mmol_l=140,
    potassium_mmol_l=5,
    magnesium_mmol_l=1.5,
    chloride_mmol_l=98,
    acetate_mmol_l=27,
    gluconate_mmol_l=23,
)


def test_gluconate_that_leaves_unused_makes_no_bicarbonate() -> None:
    assert bicarbonate_equivalents_mmol(ACETATE_GLUCONATE, 1) == pytest.approx(50)
    assert bicarbonate_equivalents_mmol(ACETATE_GLUCONATE, 1, gluconate_used=0) == pytest.approx(27)
    assert bicarbonate_equivalents_mmol(ACETATE_GLUCONATE, 1, gluconate_used=0.2) == pytest.approx(
        31.6
    )


def test_saline_brings_none() -> None:
    saline = Composition(sodium_mmol_l=154, chloride_mmol_l=154)
    assert bicarbonate_equivalents_mmol(saline, 3) == 0


def test_the_charge_of_gelatin_is_no_bicarbonate() -> None:
    gelatin = Composition(sodium_mmol_l=154, chloride_mmol_l=120, colloid_charge_meq_l=-34)
    assert bicarbonate_equivalents_mmol(gelatin, 1) == 0


def test_malic_acid_counts_by_what_the_strong_ions_leave() -> None:
    malate = Composition(
        sodium_mmol_l=145, potassium_mmol_l=4, calcium_mmol_l=2.5, magnesium_mmol_l=1,
        chloride_mmol_l=127, acetate_mmol_l=24, malate_mmol_l=5,
    )  # fmt: skip
    assert bicarbonate_equivalents_mmol(malate, 1) == pytest.approx(29)


def test_acid_phosphate_uses_up_bicarbonate() -> None:
    acid_phosphate = Composition(potassium_mmol_l=10, phosphate_mmol_l=10)
    assert bicarbonate_equivalents_mmol(acid_phosphate, 1) == pytest.approx(-8)


def test_an_unlabelled_chloride_gives_no_figure() -> None:
    assert bicarbonate_equivalents_mmol(Composition(145, chloride_mmol_l=None), 1) is None
