"""Albert, Dell, Winters, Ann Intern Med 1967;66:312 (from memory); alkalosis: textbook."""

import pytest

from app.physiology.acid_base import (
    MMHG_PER_KPA,
    expected_pco2_acidosis_mmhg,
    expected_pco2_alkalosis_mmhg,
)


@pytest.mark.parametrize(("bicarbonate", "pco2"), [(12, 26), (18, 35)])
def test_carbon_dioxide_expected_in_metabolic_acidosis(bicarbonate: float, pco2: float) -> None:
    assert expected_pco2_acidosis_mmhg(bicarbonate) == pco2


def test_in_kilopascals() -> None:
    assert expected_pco2_acidosis_mmhg(12) / MMHG_PER_KPA == pytest.approx(3.47, abs=0.01)


def test_carbon_dioxide_expected_in_metabolic_alkalosis() -> None:
    assert expected_pco2_alkalosis_mmhg(36) == pytest.approx(48.4)
