"""Insulin whose dose is written, and insulin that is not reckoned."""

import pytest

from app.chemistry.composition import Composition
from app.patient.order import AdditiveDose
from app.patient.snapshot import Snapshot, Words
from app.review.predict.insulin import running_insulin, units_an_hour, units_in
from tests.conftest import NOW
from tests.unit.review.predict.conftest import SALINE, Ask, Predict

TEN_UNITS = {"substance": "insulin", "amount": 10, "unit": "units"}


@pytest.mark.parametrize(
    ("written", "units_h"),
    [
        ("insulin 6 units/h", 6),
        ("Insulin infusion 3.5 units per hour", 3.5),
        ("insulin 0.1 units/kg/h", 7),
        ("fixed rate insulin 0.1 unit/kg/hour", 7),
        ("insulin 4 u/hr iv", 4),
        ("insulin 5 IU/h", 5),
        ("soluble insulin 50 units in 50 mL 0.9% saline at 4 mL/h", 4),
        ("insulin 100 units/100 mL 2,5 mL/h", 2.5),
    ],
)
def test_a_rate_that_is_written_is_reckoned(written: str, units_h: float) -> None:
    assert units_an_hour(written, 70) == pytest.approx(units_h)


@pytest.mark.parametrize(
    ("written", "why"),
    [
        ("insulin", "only with its rate"),
        ("variable rate insulin infusion", "only with its rate"),
        ("insulin 2-6 units/h by glucose", "only with its rate"),
        ("insulin up to 6 units/h", "only with its rate"),
        ("insulin 2 units/h, then 4 units/h", "only with its rate"),
        ("insulin 10 units before meals", "only with its rate"),
        ("insulin glargine 20 units at night", "soluble"),
        ("insulin 60000 units/h", "more than anybody"),
    ],
)
def test_what_leaves_the_rate_open_is_not_reckoned(written: str, why: str) -> None:
    said = units_an_hour(written, 70)
    assert isinstance(said, str) and why in said


def test_a_rate_by_weight_needs_the_weight() -> None:
    assert isinstance(units_an_hour("insulin 0.1 units/kg/h", None), str)


def dose(written: str) -> AdditiveDose:
    return AdditiveDose("insulin", Composition(), written)


@pytest.mark.parametrize(
    ("written", "units"),
    [
        ("10 units insulin", 10), ("16 unit insulin", 16), ("10 IU insulin", 10),
        ("50 units/L insulin", 25), ("0.1 units/kg insulin", 7), ("5 mg insulin", None),
        ("insulin", None), ("10 units insulin glargine", None),
    ],
)  # fmt: skip
def test_units_in_a_bag_of_half_a_litre(written: str, units: float | None) -> None:
    found = units_in(dose(written), 500, 70)
    assert found == (None if units is None else pytest.approx(units))


def test_the_line_that_a_patient_keeps_is_read_where_no_lines_are_given() -> None:
    words = Words(frozenset({"insulin"}), detail={"insulin": "insulin 6 units/h"})
    running = running_insulin(Snapshot(NOW, medications=words), 120)
    assert [load.insulin_units for load in running.loads] == [12]
    assert running_insulin(Snapshot(NOW), 120).loads == ()


def test_insulin_in_the_bag_is_given_with_it(ask: Ask) -> None:
    bag = {"fluid": "10% glucose", "volume_ml": 500, "duration_min": 240}
    (infusion,) = ask({**bag, "additives": [TEN_UNITS]}).infusions
    assert infusion.load.insulin_units == pytest.approx(10)
    assert not any("drug" in note.text for note in infusion.notes)
    composed = {"composition": {"glucose_g_l": 100}, "volume_ml": 500, "duration_min": 240}
    (infusion,) = ask({**composed, "additives": [TEN_UNITS]}).infusions
    assert infusion.load.insulin_units == pytest.approx(10)


def test_insulin_in_the_words_of_the_bag_is_read(ask: Ask) -> None:
    given = {"fluid": "10% glucose 500 mL with 16 units insulin over 8 h"}
    (infusion,) = ask(given).infusions
    assert infusion.load.insulin_units == pytest.approx(16)


def test_insulin_without_units_is_said_not_to_be_reckoned(ask: Ask) -> None:
    lacking = {"substance": "insulin", "amount": 5, "unit": "mg"}
    (infusion,) = ask({**SALINE, "additives": [lacking]}).infusions
    assert infusion.load.insulin_units == 0
    assert any("not reckoned" in note.text for note in infusion.notes)


def test_insulin_running_lowers_potassium_and_glucose(reckon: Predict) -> None:
    patient = {"weight_kg": 70, "age_years": 50, "medications": ["insulin 6 units/h"]}
    with_it = reckon(SALINE, patient=patient).course.series
    without = reckon(SALINE, patient={**patient, "medications": []}).course.series
    for name in ("potassium_mmol_l", "glucose_mmol_l"):
        assert with_it[name].mid[-1] < without[name].mid[-1] - 0.3
