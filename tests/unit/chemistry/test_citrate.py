"""Citrate and calcium."""

import pytest

from app.chemistry.citrate import citrate_mmol, citrate_mmol_l, fluid_to_ratio_l


def test_the_acid_counts_beside_the_salt() -> None:
    salt = citrate_mmol_l(sodium_citrate_g_l=29.41, citric_acid_g_l=0)
    assert salt == pytest.approx(100)
    assert citrate_mmol_l(sodium_citrate_g_l=29.41, citric_acid_g_l=1.9212) == pytest.approx(110)
    assert citrate_mmol(volume_ml=50, citrate_mmol_l=100) == 5


def test_a_fluid_richer_in_calcium_reaches_the_ratio_sooner() -> None:
    poor = fluid_to_ratio_l(citrate_mmol=6, ratio=4, calcium_mmol_l=1)
    rich = fluid_to_ratio_l(citrate_mmol=6, ratio=4, calcium_mmol_l=2)
    assert poor == 1.5 == 2 * rich
