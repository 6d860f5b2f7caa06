"""What is put into the bag, in people's units."""

from typing import Any

import pytest

from app.chemistry.composition import Composition
from app.intake.additives import ask_of_potassium, read_additives
from app.intake.request import Problems, Reader
from app.intake.vocabulary import Vocabulary
from app.patient.order import AdditiveDose


def additive(vocabulary: Vocabulary, substance: Any, amount: Any, unit: Any) -> AdditiveDose:  # noqa: ANN401
    """One additive as read from a request."""
    row = {"substance": substance, "amount": amount, "unit": unit}
    (dose,) = read_additives((Reader(row, "additives[0]", Problems()),), vocabulary)
    return dose


@pytest.mark.parametrize(
    ("substance", "amount", "unit", "ion", "mmol"),
    [
        ("potassium chloride", 20, "mmol", "potassium", 20),
        ("KCl", 20, "mEq", "potassium", 20),
        ("KCl", 20, "meq", "chloride", 20),
        ("potassium chloride", 1.5, "g", "potassium", 20.12),
        ("potassium chloride", 1500, "mg", "potassium", 20.12),
        ("15% potassium chloride", 10, "mL", "potassium", 20.12),
        ("KCl 15% (2 mmol/mL)", 20, "mL", "potassium", 40),
        ("calcium gluconate 10% (0.465 mEq/mL)", 10, "mL", "calcium", 2.23),
        ("8.4% bicarbonate", 20, "mL", "bicarbonate", 20.0),
        ("sodium bicarbonate", 150, "mmol", "sodium", 150),
        ("calcium gluconate", 10, "mEq", "calcium", 5),
        ("calcium gluconate 10%", 10, "mL", "calcium", 2.23),
        ("calcium chloride", 1, "g", "calcium", 6.8),
        ("magnesium sulfate", 2, "g", "magnesium", 8.11),
        ("magnesium sulphate", 8, "mEq", "magnesium", 4),
        ("potassium phosphate", 15, "mmol", "phosphate", 15),
        ("sodium chloride 23.4%", 30, "mL", "sodium", 120.1),
        ("3% saline", 20, "mL", "sodium", 10.27),
        ("KCl", "20 mmol", None, "potassium", 20),
        ("KCl 20 mmol", None, None, "potassium", 20),
        ("KCl", 20, "mmol K+", "potassium", 20),
        ("KCl", 20, "mmol/bag", "potassium", 20),
        ("potassium (as chloride)", 20, "mmol", "potassium", 20),
        ("potasium chloride", 20, "mmol", "potassium", 20),
        ("bicarb", 3, "amps (50 mEq each)", "bicarbonate", 150),
        ("potassium chloride 20 mmol/10 mL", 2, "amps", "potassium", 40),
        ("calcium gluconate", 10, "mL", "calcium", 2.23),
        ("Mg", 10, "mmol", "magnesium", 10),
        ("magnesium sulfate 2 g", 8, "mmol", "magnesium", 8),
        ("sodium glycerophosphate 21.6%", 20, "mL", "sodium", 40),
        ("potassium acid phosphate 13.6%", 10, "mL", "phosphate", 9.99),
    ],
)
def test_an_amount_becomes_mmol(  # noqa: PLR0913 - one row of the table each
    vocabulary: Vocabulary, substance: str, amount: float, unit: str, ion: str, mmol: float
) -> None:
    dose = additive(vocabulary, substance, amount, unit)
    assert dose.unread == ""
    assert dose.added.ion_mmol_l(ion) == pytest.approx(mmol, rel=2e-3)
    assert not dose.per_litre


@pytest.mark.parametrize(
    ("mmol", "litres", "asks"), [(40, 0.1, False), (20, 0.05, False), (60, 0.1, True),
                                 (100, 0.25, True), (40, 0.05, True)],
)  # fmt: skip
def test_only_a_bag_that_no_ward_keeps_is_asked_about(
    mmol: float, litres: float, asks: bool
) -> None:
    problems = Problems()
    dose = AdditiveDose("potassium_chloride", Composition(potassium_mmol_l=mmol), f"{mmol} mmol")
    mix = Composition(potassium_mmol_l=mmol / litres)
    ask_of_potassium(Reader({}, "orders[0]", problems), (dose,), mix)
    assert bool(problems.questions) == asks


@pytest.mark.parametrize("unit", ["mmol/L", "mEq per litre", "/L", "mmol/1000 mL"])
def test_an_amount_a_litre_stays_one(vocabulary: Vocabulary, unit: str) -> None:
    assert additive(vocabulary, "potassium chloride", 40, unit).per_litre


@pytest.mark.parametrize("substance", ["none", "Nil", "no additives"])
def test_none_is_no_additive(vocabulary: Vocabulary, substance: str) -> None:
    row = Reader({"substance": substance, "amount": 0}, "additives[0]", Problems())
    assert read_additives((row,), vocabulary) == ()


@pytest.mark.parametrize(
    ("substance", "amount", "unit", "why"),
    [
        ("potassium chloride", 20, "", "unit"),
        ("potassium chloride", 20, "tablets", "unit"),
        ("potassium chloride", 20, "mL", "strength"),
        ("potassium chloride", None, None, "amount"),
        ("potassium phosphate", 15, "mEq", "phosphate has no fixed charge"),
        ("phosphate", 20, "mmol", "which salt"),
        ("calcium", 10, "mmol", "which salt"),
        ("moonlight", 3, "g", "not a known additive"),
        (None, 3, "g", "no substance"),
        ("sodium bicarbonate", 2, "ampoules", "one ampoule"),
        ("potassium chloride", 20, "mg", "mmol meant"),
        ("magnesium sulfate", 50, "mg/kg", "the weight"),
        ("potassium chloride 15%", None, None, "amount"),
        ("KCl 15% (1 mmol/mL)", 20, "mL", "do not agree"),
    ],
)
def test_what_cannot_be_turned_into_amounts_says_why(
    vocabulary: Vocabulary, substance: str | None, amount: float | None, unit: str | None, why: str
) -> None:
    dose = additive(vocabulary, substance, amount, unit)
    assert why in dose.unread
    assert dose.added.potassium_mmol_l == 0


@pytest.mark.parametrize(
    ("substance", "amount", "unit"),
    [("thiamine", 200, "mg"), ("insulin", 50, "units"), ("heparin", 500, "unit"),
     ("multivitamin", 10, "mL")],
)  # fmt: skip
def test_a_drug_that_is_no_electrolyte_leaves_the_bag_readable(
    vocabulary: Vocabulary, substance: str, amount: float, unit: str
) -> None:
    dose = additive(vocabulary, substance, amount, unit)
    assert dose.unread == "" and dose.substance == substance


def test_half_strong_glucose_is_added_in_grams(vocabulary: Vocabulary) -> None:
    assert additive(vocabulary, "dextrose 50%", 50, "mL").added.glucose_g_l == pytest.approx(25)
