"""Units of results in their many spellings."""

import pytest

from app.intake.results.units import is_unit, unit_of_result


@pytest.mark.parametrize(
    ("written", "unit"),
    [
        ("mmols/L", "mmol/L"), ("mmol·L⁻¹", "mmol/L"), ("mmol.l-1", "mmol/L"), ("mM", "mmol/L"),
        ("millimol/L", "mmol/L"), ("mmol per L", "mmol/L"), ("μmol/L", "umol/L"),
        ("umol", "umol/L"),
        ("mEq/Litre", "mEq/L"), ("mgs/dl", "mg/dL"), ("gm%", "g/dL"), ("C", "Cel"), ("kpa", "kPa"),
        ("mOsm/kg H2O", "mosm/kg"), ("MMOL/L", "mmol/L"), ("Mmol/L", "Mmol/L"),
        ("furlong", "furlong"), ("fraction", "L/L"), ("vol%", "%"), ("Vol %", "%"),
        ("none", ""), ("Unitless", ""), ("no unit", ""),
    ],
)  # fmt: skip
def test_a_spelling_means_its_unit(written: str, unit: str) -> None:
    assert unit_of_result(written)[0] == unit


def test_what_is_a_unit() -> None:
    assert is_unit("mmol/l") and not is_unit("haemolysed")
