"""Whom a what-if is for: what is too old is left out and said, what was measured keeps its time."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from types import MappingProxyType

import pytest
from fastapi import FastAPI

from app.patient.observation import Observation
from app.patient.snapshot import Words
from app.physiology.course.body import BaselineError
from app.review.workflow import Bedside, review_patient
from app.storage.database import reading
from app.web.prediction.asked import Asked
from app.web.prediction.person import Person, person_of

NOW = datetime(2031, 3, 4, 7, 0, tzinfo=UTC)


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


def test_a_typed_person_is_seen_by_the_rules_with_results_of_now() -> None:
    values = {"weight": 60.0, "height": 170.0, "result_sodium": 118.0, "urine": 40.0}
    typed = Asked(
        values=MappingProxyType(values), conditions=frozenset({"shock", "alcohol_dependence"})
    )
    assert person_of(typed, None).case is None
    seen = person_of(typed, None, NOW).snapshot
    assert seen is not None
    assert seen.value("sodium") == 118
    assert (seen.weight_kg, seen.height_cm, seen.urine_ml_h) == (60, 170, 40)
    assert "alcohol_dependence" in seen.conditions


def with_sodium(bedside: Bedside, sodium: float, *found: str) -> Bedside:
    """The patient with another sodium, and with these conditions and no other."""
    patient = bedside.review.case.patient
    results = {"sodium": (Observation("sodium", sodium, "mmol/L", patient.now),)}
    words = Words(frozenset(found), detail={key: f"{key} as written" for key in found})
    patient = replace(patient, results=results, conditions=words)
    case = replace(bedside.review.case, patient=patient)
    return replace(bedside, review=replace(bedside.review, case=case))


@pytest.mark.parametrize(
    ("sodium", "recorded", "chosen", "found"),
    [
        (118, (), "", ()),
        (118, (), "acute", ("acute_hyponatraemia",)),
        (118, ("chronic_hyponatraemia",), "acute", ("acute_hyponatraemia",)),
        (118, ("acute_hyponatraemia",), "", ("acute_hyponatraemia",)),
        (118, ("acute_hyponatraemia",), "longer", ()),
        (160, (), "acute", ("acute_hypernatraemia",)),
        (160, ("acute_hypernatraemia",), "longer", ()),
        (140, (), "acute", ()),
    ],
)
def test_since_when_is_as_recorded_unless_chosen_here(
    bed_04: Bedside, sodium: float, recorded: tuple[str, ...], chosen: str, found: tuple[str, ...]
) -> None:
    asked = Asked(chosen={"onset": chosen} if chosen else {})
    person = person_of(asked, with_sodium(bed_04, sodium, *recorded))
    assert person.conditions == set(found)
    assert person.case is not None
    assert person.case.patient.conditions.found == set(found)
    short = [key for key in recorded if key.startswith("acute")]
    assert person.recorded_onset == (f"{short[0]} as written" if short else "")


def test_nothing_known_is_all_assumed_and_listed() -> None:
    names = {one.name for one in Person().subject().assumed}
    assert {"weight_kg", "sodium", "potassium", "chloride"} <= names


def test_figures_that_cannot_be_together_are_refused() -> None:
    with pytest.raises(BaselineError):
        Person(results={"ph": 7.4, "pco2": 40, "bicarbonate": 10}).subject()
