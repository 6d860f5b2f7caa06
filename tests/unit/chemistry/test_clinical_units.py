"""Results in the project's units."""

import pytest

from app.chemistry.clinical_units import (
    BY_SPELLING,
    FACTORS,
    SPELLINGS,
    canonical_unit,
    project_unit,
    to_project_unit,
)
from app.chemistry.errors import UnitError


@pytest.mark.parametrize(
    ("analyte", "value", "unit", "expected"),
    [
        ("sodium", 140, "mEq/L", 140),
        ("calcium_ionised", 2.4, "meq/L", 1.2),
        ("calcium_total", 9.6, "mg/dL", 2.395),
        ("magnesium", 1.8, "mEq/L", 0.9),
        ("magnesium", 2.0, "mg/dl", 0.823),
        ("phosphate", 3.1, "mg/dL", 1.001),
        ("glucose", 180, "mg/dL", 9.991),
        ("lactate", 18, "mg/dL", 1.998),
        ("urea_nitrogen", 28.014, "mg/dL", 10),
        ("creatinine", 1.2, "mg/dL", 106.08),
        ("creatinine", 0.106, "mmol/L", 106),
        ("bilirubin", 1, "mg/dL", 17.1),
        ("albumin", 3.5, "g/dL", 35),
        ("haemoglobin", 12.4, "g/dL", 124),
        ("haemoglobin", 124, "g/L", 124),
        ("haematocrit", 0.36, "L/L", 36),
        ("haematocrit", 36, "%", 36),
        ("pco2", 5.33, "kPa", 39.98),
        ("pco2", 40, "mm[Hg]", 40),
        ("osmolality", 290, "mOsm/kg H2O", 290),
        ("egfr", 45, "mL/min/{1.73_m2}", 45),
        ("ph", 7.4, "", 7.4),
        ("ph", 7.4, "[pH]", 7.4),
        ("ketones", 31.23, "mg/dL", 3),
        ("creatinine", 88, "µmol/L", 88),
        ("weight", 154, "[lb_av]", 69.85),
        ("height", 1.7, "m", 170),
    ],
)
def test_a_result_reads_the_same_in_the_projects_unit(
    analyte: str, value: float, unit: str, expected: float
) -> None:
    assert to_project_unit(analyte, value, unit) == pytest.approx(expected, rel=5e-4)


def test_phosphate_in_milliequivalents_is_refused_with_the_reason() -> None:
    with pytest.raises(UnitError, match="no fixed charge"):
        to_project_unit("phosphate", 2, "mEq/L")


def test_urea_in_milligrams_must_say_whether_it_is_nitrogen() -> None:
    with pytest.raises(UnitError, match="differ by half"):
        to_project_unit("urea", 20, "mg/dL")


@pytest.mark.parametrize("unit", ["ML/H", "MG/DL", "MEQ/L", "Mmol/L"])
def test_a_capital_m_means_mega_and_is_refused(unit: str) -> None:
    with pytest.raises(UnitError, match="mega"):
        canonical_unit(unit)


@pytest.mark.parametrize(
    ("written", "unit"),
    [("ml/hr", "mL/h"), ("mL / h", "mL/h"), ("cc", "mL"), ("meq", "mEq"), ("KPA", "kPa"),
     ("μg", "mcg"), ("IU", "unit"), ("hrs", "h"), ("mmol/l", "mmol/L"), ("l/h", "L/h")],
)  # fmt: skip
def test_common_spellings_are_read(written: str, unit: str) -> None:
    assert canonical_unit(written) == unit


def test_a_unit_that_does_not_fit_names_those_that_do() -> None:
    with pytest.raises(UnitError, match=r"mmol/L or mEq/L"):
        to_project_unit("potassium", 4, "mg/dL")


def test_a_result_without_a_unit_is_not_taken_as_the_usual_one() -> None:
    with pytest.raises(UnitError, match="unit"):
        to_project_unit("potassium", 4, "")


def test_an_unknown_analyte_is_named() -> None:
    with pytest.raises(UnitError, match="result: troponin"):
        to_project_unit("troponin", 4, "ng/L")


def test_no_spelling_means_two_units() -> None:
    spellings = [
        spelling
        for unit, others in SPELLINGS.items()
        for spelling in {unit.lower().replace(" ", ""), *others}
    ]
    assert len(spellings) == len(set(spellings)) == len(BY_SPELLING)


@pytest.mark.parametrize("analyte", FACTORS)
def test_the_projects_own_unit_comes_first_and_changes_nothing(analyte: str) -> None:
    assert to_project_unit(analyte, 1, project_unit(analyte)) == 1
