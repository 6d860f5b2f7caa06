"""What one litre holds, and what follows from it."""

import pytest

from app.chemistry.composition import Composition

LACTATED = Composition(
    sodium_mmol_l=130, potassium_mmol_l=4, calcium_mmol_l=1.35, chloride_mmol_l=109,
    lactate_mmol_l=28,
)  # fmt: skip
DEXTROSE_HALF_SALINE = Composition(
    sodium_mmol_l=77, chloride_mmol_l=77, glucose_g_l=50, glucose_monohydrate=True
)
ALBUMIN = Composition(sodium_mmol_l=145, chloride_mmol_l=None, albumin_g_l=50)


def test_calcium_counts_twice_in_charge_and_once_in_osmolarity() -> None:
    assert LACTATED.cations_meq_l == pytest.approx(136.7)
    assert LACTATED.osmolarity_mosm_l == pytest.approx(272.35)


def test_the_strong_ion_difference_leaves_out_the_organic_anion() -> None:
    assert LACTATED.strong_ion_difference_meq_l == pytest.approx(27.7)
    assert LACTATED.charge_gap_meq_l == pytest.approx(-0.3)


def test_glucose_is_in_the_osmolarity_but_not_in_the_tonicity() -> None:
    assert DEXTROSE_HALF_SALINE.tonicity_mosm_l == 154
    assert DEXTROSE_HALF_SALINE.osmolarity_mosm_l == pytest.approx(406.3, abs=0.1)


def test_fifty_grams_of_the_monohydrate_burn_as_forty_five_and_a_half() -> None:
    assert DEXTROSE_HALF_SALINE.glucose_anhydrous_g_l == pytest.approx(45.46, abs=0.01)


def test_mannitol_stays_in_the_tonicity() -> None:
    assert Composition(mannitol_g_l=200).tonicity_mosm_l == pytest.approx(1097.9, abs=0.1)


def test_without_a_labelled_chloride_nothing_that_needs_it_is_computed() -> None:
    figures = (
        ALBUMIN.anions_meq_l,
        ALBUMIN.charge_gap_meq_l,
        ALBUMIN.osmolarity_mosm_l,
        ALBUMIN.tonicity_mosm_l,
        ALBUMIN.strong_ion_difference_meq_l,
        ALBUMIN.ion_mmol_l("chloride"),
    )
    assert figures == (None,) * len(figures)


def test_sulfate_is_a_strong_anion_that_stays() -> None:
    assert Composition(magnesium_mmol_l=8, sulfate_mmol_l=8).strong_ion_difference_meq_l == 0


def test_sodium_and_potassium_together_are_the_salt() -> None:
    assert LACTATED.cation_salt_mmol_l == 134


def test_amounts_list_every_number_and_not_the_glucose_basis() -> None:
    assert LACTATED.amounts()["lactate_mmol_l"] == 28
    assert "glucose_monohydrate" not in LACTATED.amounts()
