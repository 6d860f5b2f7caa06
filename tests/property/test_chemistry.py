"""What must hold of every solution, whatever its figures."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.chemistry.bicarbonate import bicarbonate_equivalents_mmol
from app.chemistry.composition import Composition
from app.chemistry.mixing import added, mixed, mixed_osmolarity_mosm_l, scaled
from app.chemistry.salts import SALTS, salt_amounts, salt_mg_from_mmol, salt_mmol_from_g
from app.chemistry.substances import ANIONS, CATIONS, IONS
from app.chemistry.units import meq_from_mmol, mg_from_mmol, mmol_from_meq, mmol_from_mg
from app.chemistry.water import electrolyte_free_water_edelman_l, electrolyte_free_water_l

CONCENTRATIONS = st.floats(0, 4000, allow_nan=False)
MASSES = st.floats(0, 500, allow_nan=False)
LITRES = st.floats(0.001, 20, allow_nan=False)
ION_KEYS = st.sampled_from([ion.key for ion in IONS])
CHARGED_KEYS = st.sampled_from([ion.key for ion in IONS if ion.charge is not None])
WEIGHED = st.sampled_from([salt.key for salt in SALTS if salt.molar_mass_g_mol])

compositions = st.builds(
    Composition,
    **{f"{ion.key}_mmol_l": CONCENTRATIONS for ion in IONS},
    glucose_g_l=MASSES,
    glucose_monohydrate=st.booleans(),
    albumin_g_l=MASSES,
    mannitol_g_l=MASSES,
    other_solute_mmol_l=st.floats(0, 50),
    colloid_charge_meq_l=st.floats(-50, 0),
)


def close(first: float | None, second: float | None) -> bool:
    return math.isclose(first or 0, second or 0, rel_tol=1e-9, abs_tol=1e-6)


@given(compositions, LITRES, compositions, LITRES)
def test_mixing_conserves_every_ion_and_the_charge(
    first: Composition, first_l: float, second: Composition, second_l: float
) -> None:
    mix, total_l = mixed(first, first_l, second, second_l), first_l + second_l
    for ion in IONS:
        before = first_l * (first.ion_mmol_l(ion.key) or 0)
        before += second_l * (second.ion_mmol_l(ion.key) or 0)
        assert close(total_l * (mix.ion_mmol_l(ion.key) or 0), before)
    gaps = first_l * (first.charge_gap_meq_l or 0) + second_l * (second.charge_gap_meq_l or 0)
    assert math.isclose(total_l * (mix.charge_gap_meq_l or 0), gaps, rel_tol=1e-6, abs_tol=1e-3)


@given(compositions, LITRES, compositions, LITRES)
def test_mixing_conserves_sugar_whatever_basis_each_label_used(
    first: Composition, first_l: float, second: Composition, second_l: float
) -> None:
    mix = mixed(first, first_l, second, second_l)
    before = first_l * first.glucose_mmol_l + second_l * second.glucose_mmol_l
    assert close((first_l + second_l) * mix.glucose_mmol_l, before)


@given(compositions, LITRES, compositions, LITRES)
def test_a_mixture_lies_between_its_parts_in_osmolarity(
    first: Composition, first_l: float, second: Composition, second_l: float
) -> None:
    one, other = first.osmolarity_mosm_l or 0, second.osmolarity_mosm_l or 0
    mix = mixed(first, first_l, second, second_l).osmolarity_mosm_l or 0
    assert min(one, other) - 1e-6 <= mix <= max(one, other) + 1e-6
    by_volume = mixed_osmolarity_mosm_l([(first_l, one), (second_l, other)])
    assert math.isclose(mix, by_volume, rel_tol=1e-9, abs_tol=1e-6)


@given(compositions, LITRES, compositions, LITRES)
def test_it_does_not_matter_which_is_poured_first(
    first: Composition, first_l: float, second: Composition, second_l: float
) -> None:
    one = mixed(first, first_l, second, second_l)
    other = mixed(second, second_l, first, first_l)
    assert close(one.sodium_mmol_l, other.sodium_mmol_l)
    assert close(one.osmolarity_mosm_l, other.osmolarity_mosm_l)


@given(compositions, st.floats(0.01, 10))
def test_scaling_there_and_back_changes_nothing(composition: Composition, factor: float) -> None:
    back = scaled(scaled(composition, factor), 1 / factor)
    for name, value in composition.amounts().items():
        assert close(back.amounts()[name], value)


@given(compositions)
def test_adding_nothing_changes_nothing(composition: Composition) -> None:
    assert added(composition, Composition()) == composition


@given(CHARGED_KEYS, CONCENTRATIONS)
def test_mmol_to_milliequivalents_and_back(key: str, mmol: float) -> None:
    assert mmol_from_meq(key, meq_from_mmol(key, mmol)) == pytest.approx(mmol)
    assert meq_from_mmol(key, mmol) >= mmol


@given(ION_KEYS, CONCENTRATIONS)
def test_mmol_of_an_ion_to_milligrams_and_back(key: str, mmol: float) -> None:
    assert mmol_from_mg(key, mg_from_mmol(key, mmol)) == pytest.approx(mmol)


@given(WEIGHED, CONCENTRATIONS)
def test_mmol_of_a_salt_to_grams_and_back(key: str, mmol: float) -> None:
    assert salt_mmol_from_g(key, salt_mg_from_mmol(key, mmol) / 1000) == pytest.approx(mmol)


@given(st.sampled_from([s.key for s in SALTS]), CONCENTRATIONS, CONCENTRATIONS)
def test_twice_the_salt_gives_twice_the_ions(key: str, mmol: float, more: float) -> None:
    together = added(salt_amounts(key, mmol), salt_amounts(key, more))
    for name, value in salt_amounts(key, mmol + more).amounts().items():
        assert close(together.amounts()[name], value)


@given(compositions, ION_KEYS, st.floats(0.1, 100))
def test_more_of_an_ion_never_lowers_osmolarity_or_tonicity(
    composition: Composition, key: str, more: float
) -> None:
    held = composition.ion_mmol_l(key) or 0
    richer = replace(composition, **{f"{key}_mmol_l": held + more})
    assert (richer.osmolarity_mosm_l or 0) > (composition.osmolarity_mosm_l or 0)
    assert (richer.tonicity_mosm_l or 0) > (composition.tonicity_mosm_l or 0)


@given(compositions, st.sampled_from([ion.key for ion in CATIONS]), st.floats(0.1, 100))
def test_more_of_a_cation_raises_the_strong_ion_difference_and_never_adds_free_water(
    composition: Composition, key: str, more: float
) -> None:
    held = composition.ion_mmol_l(key) or 0
    richer = replace(composition, **{f"{key}_mmol_l": held + more})
    before, after = composition.strong_ion_difference_meq_l, richer.strong_ion_difference_meq_l
    assert (after or 0) > (before or 0)
    for water in (electrolyte_free_water_l, electrolyte_free_water_edelman_l):
        assert water(richer, 1, 140) <= water(composition, 1, 140)


@given(compositions, st.floats(0.1, 100))
def test_more_chloride_never_leaves_more_bicarbonate(composition: Composition, more: float) -> None:
    held = composition.chloride_mmol_l or 0
    richer = replace(composition, chloride_mmol_l=held + more)
    before = bicarbonate_equivalents_mmol(composition, 1) or 0
    assert (bicarbonate_equivalents_mmol(richer, 1) or 0) < before


@given(compositions, st.floats(0, 1), st.floats(0, 1))
def test_gluconate_that_is_used_more_never_makes_less_bicarbonate(
    composition: Composition, first: float, second: float
) -> None:
    less, more = sorted((first, second))
    low = bicarbonate_equivalents_mmol(composition, 1, gluconate_used=less) or 0
    high = bicarbonate_equivalents_mmol(composition, 1, gluconate_used=more) or 0
    assert low <= high + 1e-9


@given(compositions)
def test_glucose_is_all_that_parts_osmolarity_from_tonicity(composition: Composition) -> None:
    difference = (composition.osmolarity_mosm_l or 0) - (composition.tonicity_mosm_l or 0)
    assert close(difference, composition.glucose_mmol_l)


@given(compositions)
def test_an_unlabelled_chloride_stays_unknown_in_every_mixture(composition: Composition) -> None:
    unlabelled = replace(composition, chloride_mmol_l=None)
    for mix in (mixed(unlabelled, 1, composition, 1), mixed(composition, 1, unlabelled, 1)):
        assert mix.chloride_mmol_l is None
        assert mix.osmolarity_mosm_l is None
    assert sum(unlabelled.ion_mmol_l(a.key) is None for a in ANIONS) == 1
