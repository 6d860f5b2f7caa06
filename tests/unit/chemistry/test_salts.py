"""Salts and the ions they give."""

import pytest

from app.chemistry.errors import UnitError
from app.chemistry.salts import (
    SALTS,
    salt,
    salt_amounts,
    salt_mg_from_mmol,
    salt_mmol_from_g,
    salt_mmol_from_ion_mmol,
)
from app.chemistry.substances import ION_BY_KEY


def test_twenty_mmol_of_potassium_chloride_give_twenty_of_each_ion() -> None:
    given = salt_amounts("potassium_chloride", 20)
    assert (given.potassium_mmol_l, given.chloride_mmol_l, given.sodium_mmol_l) == (20, 20, 0)


def test_a_gram_of_calcium_gluconate_holds_a_third_of_the_calcium_of_a_gram_of_chloride() -> None:
    gluconate = salt_amounts("calcium_gluconate", salt_mmol_from_g("calcium_gluconate", 1))
    chloride = salt_amounts("calcium_chloride", salt_mmol_from_g("calcium_chloride", 1))
    assert gluconate.calcium_mmol_l == pytest.approx(2.23, abs=0.005)
    assert chloride.calcium_mmol_l == pytest.approx(6.80, abs=0.005)
    assert chloride.chloride_mmol_l == pytest.approx(13.6, abs=0.01)


def test_potassium_phosphates_are_counted_by_phosphate_and_bring_more_potassium() -> None:
    given = salt_amounts("potassium_phosphate", 15)
    assert given.phosphate_mmol_l == 15
    assert given.potassium_mmol_l == pytest.approx(23.5)


def test_fifteen_mmol_of_potassium_as_phosphates_is_less_than_ten_of_phosphate() -> None:
    mmol = salt_mmol_from_ion_mmol("potassium_phosphate", "potassium", 15)
    assert mmol == pytest.approx(9.574, abs=0.001)


def test_asking_a_salt_for_an_ion_it_lacks_names_the_ions_it_has() -> None:
    with pytest.raises(UnitError, match="potassium, chloride"):
        salt_mmol_from_ion_mmol("potassium_chloride", "sodium", 1)


def test_grams_of_a_phosphate_mixture_are_refused() -> None:
    with pytest.raises(UnitError, match="mmol of phosphate"):
        salt_mmol_from_g("potassium_phosphate", 1)


def test_insulin_is_no_salt() -> None:
    with pytest.raises(UnitError, match="insulin is not accepted"):
        salt("insulin")


def test_glucose_is_given_as_grams_on_the_basis_named() -> None:
    dry = salt_amounts("glucose", 100)
    wet = salt_amounts("glucose_monohydrate", 100)
    assert (dry.glucose_g_l, dry.glucose_monohydrate) == (pytest.approx(18.016), False)
    assert (wet.glucose_g_l, wet.glucose_monohydrate) == (pytest.approx(19.817), True)
    assert dry.glucose_mmol_l == pytest.approx(wet.glucose_mmol_l)


def test_mannitol_is_given_as_grams() -> None:
    assert salt_amounts("mannitol", 100).mannitol_g_l == pytest.approx(18.217)


def test_grams_and_mmol_of_a_salt_are_one_conversion_both_ways() -> None:
    assert salt_mg_from_mmol("potassium_chloride", 20) == pytest.approx(1491)
    assert salt_mmol_from_g("potassium_chloride", 1.491) == pytest.approx(20)


@pytest.mark.parametrize("one", SALTS, ids=lambda s: s.key)
def test_every_salt_is_electrically_neutral_but_for_acid_and_phosphate(one: object) -> None:
    ions = one.ions  # type: ignore[attr-defined]
    if not ions or any(key in ("phosphate", "malate") for key, _ in ions):
        return
    assert sum(count * (ION_BY_KEY[key].charge or 0) for key, count in ions) == 0
