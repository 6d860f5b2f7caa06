"""Figures as text."""

import pytest

from app.intake.results.figures import Doubt, Figure, NoResultYet, read_figure
from app.intake.vocabulary import Vocabulary


@pytest.mark.parametrize(
    ("value", "unit", "figure"),
    [
        (5.9, "mmol/L", Figure(5.9, "mmol/L")), ("5.9 (H)", "", Figure(5.9)),
        ("H 5.9", "", Figure(5.9)), ("5.9 ↑", "", Figure(5.9)), ("K+ 5.9", "", Figure(5.9)),
        ("5,9 mmol/l", "", Figure(5.9, "mmol/L")), ("[118]", "", Figure(118)),
        ("5.9 mmol/L (3.5-5.3)", "", Figure(5.9, "mmol/L")), ("-8.2", "", Figure(-8.2)),
        ("<15", "", Figure(15, bound="under")),
        ("> 33.3", "mmol/L", Figure(33.3, "mmol/L", "over")),
        ("6.3 haemolysed", "mmol/L", Figure(6.3, "mmol/L", remark="haemolysed")),
        ("0.41 L/L", "", Figure(0.41, "L/L")), ("28%", "", Figure(28, "%")),
        ("12,400 U/L", "", Figure(12400, "U/L", grouped=True)),
        ("3.2 mmol/L - low", "", Figure(3.2, "mmol/L")),
    ],
)  # fmt: skip
def test_a_figure_is_read(vocabulary: Vocabulary, value: object, unit: str, figure: Figure) -> None:
    assert read_figure(value, unit, vocabulary.analytes) == figure


@pytest.mark.parametrize(
    "value", ["5.9/4.8", "5.9 -> 4.8", "?5.9", "4-5", "5..9", "6,0,1", "high", True, None, "3+"]
)
def test_what_is_no_plain_figure_is_doubted(vocabulary: Vocabulary, value: object) -> None:
    with pytest.raises(Doubt):
        read_figure(value, "mmol/L", vocabulary.analytes)


@pytest.mark.parametrize("value", ["pending", "-", "", "N/A", "to follow", "not done"])
def test_what_is_not_there_yet_is_no_result(vocabulary: Vocabulary, value: str) -> None:
    with pytest.raises(NoResultYet):
        read_figure(value, "mmol/L", vocabulary.analytes)


def test_two_units_are_asked_about(vocabulary: Vocabulary) -> None:
    with pytest.raises(Doubt):
        read_figure("90 mg/dL", "mmol/L", vocabulary.analytes)
