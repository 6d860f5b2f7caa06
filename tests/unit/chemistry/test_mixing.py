"""Two solutions into one."""

import pytest

from app.chemistry.composition import Composition
from app.chemistry.mixing import added, mixed, mixed_osmolarity_mosm_l, scaled

SALINE = Composition(sodium_mmol_l=154, chloride_mmol_l=154)
POTASSIUM_CONCENTRATE = Composition(potassium_mmol_l=2000, chloride_mmol_l=2000)
DEXTROSE = Composition(glucose_g_l=50, glucose_monohydrate=True)
GLUCOSE = Composition(glucose_g_l=50)
ALBUMIN = Composition(sodium_mmol_l=145, chloride_mmol_l=None, albumin_g_l=50)


def test_twenty_millilitres_of_concentrate_put_near_forty_mmol_in_a_litre() -> None:
    mix = mixed(SALINE, 1, POTASSIUM_CONCENTRATE, 0.02)
    assert mix.potassium_mmol_l == pytest.approx(40 / 1.02)
    assert mix.sodium_mmol_l == pytest.approx(154 / 1.02)


def test_half_a_litre_holds_half_of_everything() -> None:
    half = scaled(DEXTROSE, 0.5)
    assert (half.glucose_g_l, half.glucose_monohydrate) == (25, True)


def test_glucose_of_two_bases_is_added_as_anhydrous() -> None:
    both = added(DEXTROSE, GLUCOSE)
    assert not both.glucose_monohydrate
    assert both.glucose_mmol_l == pytest.approx(DEXTROSE.glucose_mmol_l + GLUCOSE.glucose_mmol_l)


def test_salt_added_to_dextrose_leaves_its_labelled_grams() -> None:
    assert added(DEXTROSE, SALINE).glucose_g_l == 50


def test_a_chloride_that_is_not_on_the_label_stays_unknown_after_mixing() -> None:
    assert mixed(ALBUMIN, 1, SALINE, 1).chloride_mmol_l is None
    assert scaled(ALBUMIN, 2).chloride_mmol_l is None


def test_nothing_mixed_with_nothing_is_refused() -> None:
    with pytest.raises(ValueError, match="above 0"):
        mixed(SALINE, 0, SALINE, 0)


def test_osmolarity_of_a_mixture_is_weighed_by_volume() -> None:
    assert mixed_osmolarity_mosm_l([(1, 300), (3, 100)]) == 150
