"""What nobody measured is told as such; what a rule asks for or a condition contradicts is not
drawn.
"""

from collections.abc import Mapping

import pytest

from app.web.prediction.panels import QUANTITIES
from app.web.prediction.person import Person
from app.web.prediction.start.standing import (
    Asking,
    Standing,
    basis_words,
    standings,
    unpredicted_words,
)

KEYS = [quantity.key for quantity in QUANTITIES]
NAMES = {quantity.key: quantity.name for quantity in QUANTITIES}


def found(person: Person, asking: Asking | None = None) -> Mapping[str, Standing]:
    return standings(KEYS, person.subject(), person, asking or Asking())


def adult(
    results: Mapping[str, float] | None = None,
    *conditions: str,
    old: Mapping[str, str] | None = None,
) -> Person:
    return Person(
        weight_kg=70,
        age_years=50,
        sex="male",
        results=results or {},
        conditions=frozenset(conditions),
        old=old or {},
    )


def test_a_result_needs_no_word_and_what_nobody_measured_is_assumed() -> None:
    told = found(adult({"sodium": 138.0}))
    assert told["sodium_mmol_l"] == Standing()
    assert told["potassium_mmol_l"] == Standing("assumed")
    assert told["plasma_volume_ml"].word == "by size"
    assert found(Person())["plasma_volume_ml"].word == "assumed"


@pytest.mark.parametrize(
    ("results", "key", "word"),
    [
        ({"ph": 7.3, "pco2": 40.0}, "bicarbonate_mmol_l", "worked out"),
        ({"bicarbonate": 20.0, "pco2": 40.0}, "ph", "worked out"),
        ({"haemoglobin": 120.0}, "haematocrit", "worked out"),
        ({"sodium": 140.0, "glucose": 6.0}, "osmolality_mosm_kg", "worked out"),
    ],
)
def test_what_other_results_give_is_worked_out(
    results: dict[str, float], key: str, word: str
) -> None:
    assert found(adult(results))[key] == Standing(word)


def test_a_figure_of_a_gas_that_the_others_move_says_what_the_result_was() -> None:
    person = adult({"ph": 7.28, "pco2": 33.0, "bicarbonate": 16.0})
    told = found(person)
    subject = person.subject()
    moved = {
        "ph": (f"{subject.ph:.2f}", "7.28"),
        "bicarbonate_mmol_l": (f"{subject.bicarbonate_mmol_l:.1f}", "16.0"),
    }
    assert any(drawn != result for drawn, result in moved.values())
    for key, (drawn, result) in moved.items():
        word = f"worked out; result {result.removesuffix('.0')}" if drawn != result else ""
        assert told[key] == Standing(word)


def test_an_old_result_is_said_to_be_old() -> None:
    told = found(adult({"potassium": 3.8}, old={"potassium": "32 h 35 min"}))
    assert told["potassium_mmol_l"] == Standing("32 h 35 min old")


def test_what_a_rule_asks_for_is_drawn_neither_assumed_nor_old() -> None:
    asked = Asking(frozenset({"potassium"}))
    assert found(adult(), asked)["potassium_mmol_l"].why_none == "no result"
    old = adult({"potassium": 3.8}, old={"potassium": "32 h 35 min"})
    why = found(old, asked)["potassium_mmol_l"].why_none
    assert why == "no result in time (the last, 3.8, is 32 h 35 min old)"
    assert not found(adult({"potassium": 3.8}), asked)["potassium_mmol_l"].why_none


@pytest.mark.parametrize(
    ("condition", "key"),
    [
        ("hyponatraemia", "sodium_mmol_l"),
        ("hypernatraemia", "sodium_mmol_l"),
        ("diabetic_ketoacidosis", "bicarbonate_mmol_l"),
        ("hypokalaemia", "potassium_mmol_l"),
        ("hypoglycaemia", "glucose_mmol_l"),
    ],
)
def test_a_condition_on_record_leaves_a_usual_value_undrawn(condition: str, key: str) -> None:
    assert "is on record" in found(adult({}, condition))[key].why_none
    assert not found(adult())[key].why_none


def test_a_chloride_that_is_assumed_goes_with_its_sodium() -> None:
    told = found(adult({}, "hyponatraemia"))
    assert told["chloride_mmol_l"].why_none == told["sodium_mmol_l"].why_none
    assert told["osmolality_mosm_kg"].why_none
    known = found(adult({"chloride": 90.0}, "hyponatraemia"))
    assert not known["chloride_mmol_l"].why_none


def test_insulin_that_is_not_counted_leaves_potassium_and_glucose_undrawn() -> None:
    told = found(adult({"potassium": 4.0, "glucose": 20.0}), Asking(insulin=True))
    assert unpredicted_words(NAMES, told) == (
        "Potassium and glucose: insulin runs and is not counted here. Not predicted.",
    )
    assert not told["sodium_mmol_l"].why_none


def test_what_is_typed_and_what_is_assumed_is_said() -> None:
    person = adult({"sodium": 118.0})
    words = basis_words(person, found(person), NAMES)
    assert words.startswith("Typed: weight, age, sex, sodium. Assumed: potassium, chloride,")
    assert "sodium" not in words.partition("Assumed")[2]
    old = adult({"sodium": 130.0}, old={"sodium": "30 h"})
    assert " Old: sodium." in basis_words(old, found(old), NAMES)
