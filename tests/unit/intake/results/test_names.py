"""Names and codes of results."""

import pytest

from app.intake.results.names import Analyte, Unclear, analyte_of, settled
from app.intake.vocabulary import Vocabulary


@pytest.mark.parametrize(
    ("name", "key"),
    [
        ("Potassium, Plasma", "potassium"), ("K (ABG)", "potassium"), ("S/Na", "sodium"),
        ("Potassium SerPl-sCnc", "potassium"), ("B.U.N.", "urea"), ("Lac (VBG)", "lactate"),
        ("eGFR (CKD-EPI 2021)", "egfr"), ("Calcium (ionised)", "calcium_ionised"),
        ("pottasium", "potassium"), ("sodum", "sodium"),
        ("Spot urine sodium", "urine_sodium"), ("Urine K", "urine_potassium"),
    ],
)  # fmt: skip
def test_a_name_means_its_result(vocabulary: Vocabulary, name: str, key: str) -> None:
    analyte = analyte_of(name, "", vocabulary)
    assert isinstance(analyte, Analyte) and analyte.key == key


@pytest.mark.parametrize(
    "name",
    ["urine chloride", "Glucose (CSF)", "pleural fluid pH", "LDH", "HbA1c", "alkaline phosphatase",
     "target potassium", "K goal", "sodium valproate level", "Na (target)"],
)  # fmt: skip
def test_another_sample_or_an_aim_is_no_result(vocabulary: Vocabulary, name: str) -> None:
    assert isinstance(analyte_of(name, "", vocabulary), Unclear)


@pytest.mark.parametrize(
    ("name", "number", "unit", "key"),
    [("Ca", 9.2, "mg/dL", "calcium_total"), ("Ca", 2.2, "mmol/L", "calcium_total"),
     ("Ca", 1.2, "mmol/L", None), ("Ca", 9.2, "", None), ("CO2", 18, "mEq/L", "total_co2"),
     ("CO2", 5.1, "kPa", "pco2"), ("CO2", 40, "", None)],
)  # fmt: skip
def test_an_unclear_name_is_settled_by_its_figure_or_unit(
    vocabulary: Vocabulary, name: str, number: float, unit: str, key: str | None
) -> None:
    unclear = analyte_of(name, "", vocabulary)
    assert isinstance(unclear, Unclear)
    analyte = settled(unclear, number, unit, vocabulary)
    assert (analyte.key if analyte else None) == key
