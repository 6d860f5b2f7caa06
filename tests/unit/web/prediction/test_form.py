"""The form keeps what was typed, shows what counts when nothing is, and hides nothing that does."""

from dataclasses import replace

import pytest
from fastapi import FastAPI
from starlette.datastructures import QueryParams

from app.catalogue.catalogue import Catalogue
from app.review.workflow import Bedside, review_patient
from app.storage.database import reading
from app.web.prediction.asked import read_asked
from app.web.prediction.form import Form, form_of, typed_words
from app.web.prediction.person import person_of


def form(catalogue: Catalogue, query: str, bedside: Bedside | None = None) -> Form:
    asked = read_asked(QueryParams(query), catalogue)
    person = person_of(asked, bedside)
    first = person.orders[0] if person.orders else None
    return form_of(asked, person, first, (), catalogue)


@pytest.fixture
def bed_04(app: FastAPI) -> Bedside:
    with reading(app.state.engine) as session:
        found = review_patient(session, app.state.knowledge, "bed-04")
    assert found is not None
    return found


def test_what_is_never_hung_is_not_offered(catalogue: Catalogue) -> None:
    offered = {fluid_id for fluid_id, _ in form(catalogue, "").fluids}
    assert "sodium-chloride-0.9" in offered
    assert "potassium-chloride-concentrate" not in offered


def test_a_typed_person_is_told_in_a_line(catalogue: Catalogue) -> None:
    asked = read_asked(
        QueryParams("sex=male&weight=60&age=5x&result_sodium=116&result_ph=7.31&liver=1"), catalogue
    )
    assert typed_words(asked) == "Male; weight 60 kg; sodium 116 mmol/L; pH 7.31; failing liver"
    assert typed_words(read_asked(QueryParams("weight="), catalogue)) == ""


def test_a_typed_person_has_nothing_that_runs(catalogue: Catalogue) -> None:
    empty = form(catalogue, "")
    assert empty.instead is None
    assert empty.others is None
    assert not empty.more_open


@pytest.mark.parametrize(
    "query",
    ["urine=100", "gastric=x", "shock=1", "height=170", "breathing=responds", "volume_then=5",
     "result_albumin=30", "fluid_then=glucose-5"],
)  # fmt: skip
def test_the_folded_part_opens_when_anything_in_it_counts(catalogue: Catalogue, query: str) -> None:
    assert form(catalogue, query).more_open


def test_a_patient_s_orders_may_give_way_and_their_urine_is_shown(
    catalogue: Catalogue, bed_04: Bedside
) -> None:
    found = form(catalogue, "patient=bed-04", bed_04)
    assert found.instead is not None
    assert found.instead.options[-1] == ("none", "none")
    assert found.instead.value == found.instead.options[0][0]
    urine = next(one for one in found.losses if one.name == "urine")
    assert (urine.value, urine.usual) == ("", "20")


def test_a_recorded_short_standing_comes_first_in_its_own_words(
    catalogue: Catalogue, bed_04: Bedside
) -> None:
    assert form(catalogue, "", bed_04).onset.options[0] == ("", "longer or not known")
    patient = bed_04.review.case.patient
    words = replace(
        patient.conditions,
        found=patient.conditions.found | {"acute_hyponatraemia"},
        detail={"acute_hyponatraemia": "acute hyponatraemia after a marathon"},
    )
    case = replace(bed_04.review.case, patient=replace(patient, conditions=words))
    recorded = replace(bed_04, review=replace(bed_04.review, case=case))
    onset = form(catalogue, "", recorded).onset
    assert onset.options[0] == ("", "as recorded: acute hyponatraemia after a marathon")
    assert {value for value, _ in onset.options} == {"", "acute", "longer"}
