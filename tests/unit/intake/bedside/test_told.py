"""What the problem list tells besides conditions."""

from app.intake.bedside.told import told_among_conditions
from app.intake.vocabulary import Vocabulary
from app.patient.observation import Observation


def test_urine_results_and_remarks_are_told(vocabulary: Vocabulary) -> None:
    sent = {"potassium": (Observation("potassium", 6.9, "mmol/L", None, "6.9 mmol/L"),)}
    told = told_among_conditions(["UO 10 mL/h", "pH 7.1", "K haemolysed"], sent, vocabulary)
    assert told.urine is not None and told.urine.ml_h == 10
    assert told.results["ph"][0].value == 7.1
    assert told.results["potassium"][0].value is None
