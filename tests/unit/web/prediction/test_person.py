"""Whom a what-if is for: what is too old is left out and said, what was measured keeps its time."""

from datetime import datetime, timedelta
from types import MappingProxyType

import pytest
from fastapi import FastAPI

from app.patient.observation import Observation
from app.physiology.course.body import BaselineError
from app.review.workflow import Bedside, review_patient
from app.storage.database import reading
from app.web.prediction.asked import Asked
from app.web.prediction.person import Person, person_of


@pytest.fixture
def bed_04(app: FastAPI) -> Bedside:
    with reading(app.state.engine) as session:
        found = review_patient(session, app.state.knowledge, "bed-04")
    assert found is not None
    return found


def test_a_patient_brings_results_with_their_times(bed_04: Bedside) -> None:
    person = person_of(Asked(), bed_04)
    assert person.results["sodium"] == 136
    before, newest = person.measured["sodium"]
    assert (before.value, newest.value) == (137, 136)
    assert before.hours < newest.hours < 0
    assert newest.title.startswith("measured 136 mmol/L")
    assert "acute_kidney_injury" in person.conditions


def test_a_patient_s_urine_goes_on_unless_another_is_typed(bed_04: Bedside) -> None:
    assert person_of(Asked(), bed_04).urine_ml_h == 20
    assert person_of(Asked(values=MappingProxyType({"urine": 100.0})), bed_04).urine_ml_h == 100


def test_a_stale_result_is_left_out_and_said(bed_04: Bedside) -> None:
    patient = bed_04.review.case.patient
    now: datetime = patient.now
    old = Observation("lactate", 4.0, "mmol/L", now - timedelta(hours=30))
    results = {**patient.results, "lactate": (old,)}
    object.__setattr__(patient, "results", results)
    person = person_of(Asked(), bed_04)
    assert "lactate" not in person.results
    assert person.unused == ("Lactate: last lactate is 30 h old",)


def test_figures_typed_make_a_person_and_a_point_at_now() -> None:
    typed = Asked(values=MappingProxyType({"weight": 60.0, "result_sodium": 118.0}), sex="female")
    person = person_of(typed, None)
    assert (person.weight_kg, person.sex) == (60, "female")
    (point,) = person.measured["sodium"]
    assert (point.hours, point.value) == (0, 118)


def test_nothing_known_is_all_assumed_and_listed() -> None:
    names = {one.name for one in Person().subject().assumed}
    assert {"weight_kg", "sodium", "potassium", "chloride"} <= names


def test_figures_that_cannot_be_together_are_refused() -> None:
    with pytest.raises(BaselineError):
        Person(results={"ph": 7.4, "pco2": 40, "bicarbonate": 10}).subject()
