"""What will it do? One or two bags tried on a patient or on typed figures; nothing is written."""

from dataclasses import dataclass
from typing import Final
from urllib.parse import urlencode

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse
from starlette.datastructures import QueryParams

from app.physiology.course.body import BaselineError
from app.review.knowledge import Knowledge
from app.review.workflow import Bedside, review_patient
from app.storage.database import reading
from app.web.comparison.bedside import patient_choices
from app.web.comparison.cautions import FluidCautions
from app.web.errors import FieldFault
from app.web.prediction.asked import (
    HORIZONS_H,
    RESULT,
    RESULT_NUMBERS,
    USUAL_HORIZON,
    Asked,
    order_address,
    read_asked,
)
from app.web.prediction.cautions import bag_cautions
from app.web.prediction.outlook import Outlook, outlook_of
from app.web.prediction.person import person_of
from app.web.render import render
from app.web.show import number

router: Final = APIRouter(include_in_schema=False)
UNREADABLE: Final = 422
START: Final = (
    "/predict?fluid=sodium-chloride-0.9&fluid_b=lactated-ringers&volume=1000&minutes=240&weight=70"
)


@dataclass(frozen=True, slots=True)
class Input:
    """A field of the form."""

    name: str
    word: str
    unit: str
    value: str


@dataclass(frozen=True, slots=True)
class WhatIfPage:
    """All that the page shows. outlook: None until there is a bag, a volume and a time."""

    asked: Asked
    faults: tuple[FieldFault, ...]
    fluids: tuple[tuple[str, str], ...]
    patients: tuple[tuple[str, str], ...]
    horizons: tuple[str, ...]
    horizon: str
    results: tuple[Input, ...]
    patient: str
    unused: tuple[str, ...]
    urine: str
    outlook: Outlook | None
    cautions: tuple[FluidCautions, ...]
    start: str


@router.get("/predict")
def show_what_if(request: Request) -> HTMLResponse:
    """What a bag would do, as an address asks. Nothing is saved."""
    knowledge: Knowledge = request.app.state.knowledge
    patient = request.query_params.get("patient", "").strip()
    with reading(request.app.state.engine) as session:
        bedside = review_patient(session, knowledge, patient) if patient else None
        patients = patient_choices(session)
    asked = read_asked(_filled(request.query_params, bedside), knowledge.catalogue)
    view = what_if_page(asked, bedside, patients, knowledge)
    status = UNREADABLE if view.faults else 200
    # Another patient changes the form as well; anything else only what follows from it.
    whole = request.headers.get("hx-target") == "predict"
    part = "predict/_predict.html" if whole else "predict/_course.html"
    return render(request, "predict/what_if.html", view, part=part, status=status)


def _filled(query: QueryParams, bedside: Bedside | None) -> QueryParams:
    """With nothing asked of a patient but their name: the first order that can be told."""
    asked = {name for name, text in query.items() if text.strip() and name != "horizon"}
    if bedside is None or asked != {"patient"}:
        return query
    orders = bedside.review.case.orders
    address = next((a for o in orders if (a := order_address(bedside.patient_id, o))), "")
    horizon = urlencode({"horizon": query.get("horizon", "")})
    return QueryParams(f"{address.partition('?')[2]}&{horizon}") if address else query


def what_if_page(
    asked: Asked,
    bedside: Bedside | None,
    patients: tuple[tuple[str, str], ...],
    knowledge: Knowledge,
) -> WhatIfPage:
    """The whole page from what was asked and the patient found."""
    if asked.patient and bedside is None:
        asked = asked.with_fault(FieldFault("Patient", asked.patient, "a patient on the unit now"))
    person, outlook = person_of(asked, bedside), None
    try:
        outlook = None if asked.faults else outlook_of(asked, person, knowledge.ruleset.limits)
    except BaselineError as error:
        value = "nothing" if error.value is None else str(error.value)
        asked = asked.with_fault(FieldFault("Results", value, error.accepted))
    return WhatIfPage(
        asked=asked,
        faults=asked.faults,
        fluids=tuple((f.id, f.name) for f in knowledge.catalogue if not f.never_hung),
        patients=patients,
        horizons=HORIZONS_H,
        horizon=asked.typed.get("horizon") or USUAL_HORIZON,
        results=_result_inputs(asked),
        patient=person.called,
        unused=person.unused,
        urine="" if person.urine_ml_h is None else number(person.urine_ml_h),
        outlook=outlook,
        cautions=_cautions(asked, bedside, knowledge) if outlook else (),
        start=START,
    )


def _cautions(
    asked: Asked, bedside: Bedside | None, knowledge: Knowledge
) -> tuple[FluidCautions, ...]:
    """What the rules say of each bag in a patient of the unit; nobody else is known enough."""
    if bedside is None:
        return ()
    case, ruleset = bedside.review.case, knowledge.ruleset
    tried = (bag_cautions(bag, asked, case, ruleset) for bag in asked.bags)
    return tuple(one for one in tried if one is not None)


def _result_inputs(asked: Asked) -> tuple[Input, ...]:
    """Results are typed for nobody of the unit alone."""
    return tuple(
        Input(RESULT + name, bounds.word, bounds.unit, asked.typed.get(RESULT + name, ""))
        for name, bounds in RESULT_NUMBERS.items()
    )
