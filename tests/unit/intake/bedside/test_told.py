"""What the problem list tells besides conditions."""

from app.intake.bedside.told import told_among_conditions
from app.intake.vocabulary import Vocabulary
from app.patient.observation import Observation


def test_urine_results_and_remarks_are_told(vocabulary: Vocabulary) -> None:
    sent = {"potassium": (Observation("potassium", 6.9, "mmol/L", None, "6.9 mmol/L"),)}
    told = told_among_conditions(("UO 10 mL/h", "pH 7.1", "K haemolysed"), vocabulary)
    assert told.urine is not None and told.urine.ml_h == 10
    results = told.with_results(sent)
    assert results["ph"][0].value == 7.1
    assert results["potassium"][0].value is None


def test_a_result_that_was_sent_stands(vocabulary: Vocabulary) -> None:
    sent = {"potassium": (Observation("potassium", 4.0, "mmol/L", None, "4 mmol/L"),)}
    told = told_among_conditions(("K 6.4",), vocabulary)
    assert told.with_results(sent)["potassium"][0].value == 4.0
    assert told.with_results({})["potassium"][0].value == 6.4


def test_where_nothing_is_told_the_results_stay_as_sent(vocabulary: Vocabulary) -> None:
    sent = {"potassium": (Observation("potassium", 4.0, "mmol/L", None, "4 mmol/L"),)}
    assert told_among_conditions(("CKD 4",), vocabulary).with_results(sent) is sent
