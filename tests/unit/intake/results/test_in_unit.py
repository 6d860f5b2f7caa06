"""Figures in the project's unit."""

import pytest

from app.intake.results.figures import Doubt, Figure
from app.intake.results.in_unit import in_project_unit
from app.intake.results.names import Analyte, analyte_of
from app.intake.vocabulary import Vocabulary


def named(name: str, vocabulary: Vocabulary) -> Analyte:
    analyte = analyte_of(name, "", vocabulary)
    assert isinstance(analyte, Analyte)
    return analyte


@pytest.mark.parametrize(
    ("name", "figure", "value"),
    [
        ("glucose", Figure(180, "mg/dL"), 9.99), ("base deficit", Figure(8), -8),
        ("H+", Figure(63, "nmol/L"), 7.2), ("Hct", Figure(0.32), 32),
        ("pH", Figure(7.3, "units"), 7.3),
        ("eGFR", Figure(15, "", "under"), 15), ("urine output", Figure(480, "mL/day"), 20),
    ],
)  # fmt: skip
def test_it_is_converted(vocabulary: Vocabulary, name: str, figure: Figure, value: float) -> None:
    assert in_project_unit(named(name, vocabulary), figure)[0] == pytest.approx(value, rel=1e-3)


@pytest.mark.parametrize(
    ("name", "figure"),
    [("Mg", Figure(1.8)), ("K", Figure(5, "mmol/L", "under")), ("H+", Figure(40, "mmol/L")),
     ("K", Figure(50, "mmol/L")), ("pCO2", Figure(5.3, "mmHg"))],
)  # fmt: skip
def test_what_cannot_be_had_safely_is_doubted(
    vocabulary: Vocabulary, name: str, figure: Figure
) -> None:
    with pytest.raises(Doubt):
        in_project_unit(named(name, vocabulary), figure)
