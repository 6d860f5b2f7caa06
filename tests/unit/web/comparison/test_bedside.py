"""A patient's own results stand beside a fluid with their age, or with why they cannot."""

from datetime import datetime, timedelta

from app.patient.case import Case
from app.patient.observation import Observation
from app.patient.snapshot import Snapshot
from app.review.assess import Review
from app.review.workflow import Bedside
from app.web.comparison.bedside import own_results, who


def patient(now: datetime, *results: Observation, weight_kg: float | None = 70) -> Snapshot:
    return Snapshot(now, age_years=61, weight_kg=weight_kg, results={r.name: (r,) for r in results})


def result(now: datetime, name: str, value: float | None, hours: float) -> Observation:
    doubt = "haemolysed" if value is None else ""
    return Observation(name, value, "mmol/L", now - timedelta(hours=hours), doubt=doubt)


def test_a_fresh_result_has_its_age(now: datetime) -> None:
    own = own_results(patient(now, result(now, "potassium", 5.9, 2)))
    assert own.values == {"potassium": 5.9}
    assert own.ages["potassium"] == "2 h old"


def test_ionised_calcium_stands_in_the_calcium_row(now: datetime) -> None:
    own = own_results(patient(now, result(now, "calcium_ionised", 1.1, 1)))
    assert own.values == {"calcium_ionised": 1.1}
    assert "calcium" in own.ages


def test_a_stale_result_is_not_shown_as_a_figure(now: datetime) -> None:
    own = own_results(patient(now, result(now, "potassium", 4.1, 31)))
    assert own.values == {}
    assert own.lacks["potassium"] == "last potassium is 31 h old"


def test_a_doubtful_result_says_why(now: datetime) -> None:
    own = own_results(patient(now, result(now, "potassium", None, 1)))
    assert own.lacks["potassium"] == "haemolysed"


def test_no_result_is_said(now: datetime) -> None:
    assert own_results(patient(now)).lacks["sodium"] == "no result"


def test_a_result_without_a_time_says_so(now: datetime) -> None:
    own = own_results(patient(now, Observation("sodium", 140, "mmol/L", None)))
    assert own.ages["sodium"] == "age not known"


def test_a_missing_weight_is_said_in_the_patient_s_line(now: datetime) -> None:
    review = Review(Case(patient(now, weight_kg=None)), (), (), (), {}, "")
    assert who(Bedside("p", "07", "G.U.", {}, review)) == (
        "Bed 07 · G.U. · 61 y · weight not known"
    )
