"""Acid and base: one figure by two units or two forms."""

import pytest

from app.physiology.formulas.acid_base import BASE_EXCESS, EXPECTED, PH_OF_GAS


def test_kilopascals_and_millimetres_give_one_ph() -> None:
    by_mmhg, by_kpa, other = (part.work for part in PH_OF_GAS.parts)
    assert by_kpa(bicarbonate_mmol_l=18, pco2_kpa=4) == pytest.approx(
        by_mmhg(bicarbonate_mmol_l=18, pco2_mmhg=30.00248)
    )
    lower = by_mmhg(bicarbonate_mmol_l=18, pco2_mmhg=30) - other(
        bicarbonate_mmol_l=18, pco2_mmhg=30
    )
    assert lower == pytest.approx(0.009, abs=0.001)


def test_the_other_form_of_base_excess_reads_lower_in_acidosis() -> None:
    ours, laboratory = (part.work(bicarbonate_mmol_l=10, ph=7.1) for part in BASE_EXCESS.parts)
    assert ours - laboratory == pytest.approx(2.1, abs=0.1)


def test_expected_carbon_dioxide_is_one_in_both_units() -> None:
    mmhg, kpa, _ = (part.work(bicarbonate_mmol_l=12) for part in EXPECTED.parts)
    assert mmhg / kpa == pytest.approx(7.50062)
