"""What will it do? One or two bags tried on a patient or on typed figures; nothing is written."""

from dataclasses import dataclass, field, replace
from datetime import UTC, datetime
from typing import Final
from urllib.parse import urlencode

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse
from starlette.datastructures import QueryParams

from app.catalogue.catalogue import Catalogue
from app.patient.order import Order
from app.physiology.course.body import BaselineError
from app.review.knowledge import Knowledge
from app.review.running.loads import running_loads
from app.review.workflow import Bedside, review_patient
from app.storage.database import reading
from app.web.ahead.address import left_address, why_not
from app.web.comparison.bedside import patient_choices
from app.web.comparison.cautions import FluidCautions
from app.web.errors import FieldFault
from app.web.fluids.news import News, news_of
from app.web.fluids.shelf import Shelf, lack_words, shelf_of
from app.web.prediction.asked import Asked, read_asked
from app.web.prediction.cautions import bag_cautions, replaced_order
from app.web.prediction.fields import CHOICES, LEFT_OUT
from app.web.prediction.form import Form, form_of, typed_words
from app.web.prediction.outlook import NOTHING_ELSE, Outlook, outlook_of
from app.web.prediction.person import Person, person_of
from app.web.prediction.start.asking import asking_of, for_a_day, is_textbook, lacks_of
from app.web.render import render
from app.web.show import capital, clock_and_day
from app.web.who import sees_patients

router: Final = APIRouter(include_in_schema=False)
UNREADABLE: Final = 422
RESCUE_SALINE: Final = "sodium-chloride-3"
START: Final = (
    "/predict?fluid=sodium-chloride-0.9&fluid_b=lactated-ringers&volume=1000&minutes=240&weight=70"
)


@dataclass(frozen=True, slots=True)
class WhatIfPage:
    """All that the page shows. outlook: None until there is a bag, a volume and a time.

    textbook: nothing was told of the patient but size, age and sex. why_not: why no order of the
    patient can be tried as it is; empty where one can, or something else is. day: sodium has
    limits of a day, so that a day is looked ahead. lacks: which of the fluids named cannot be had.
    """

    asked: Asked
    faults: tuple[FieldFault, ...]
    form: Form
    patient: str
    typed: str
    unused: tuple[str, ...]
    outlook: Outlook | None
    cautions: tuple[FluidCautions, ...]
    start: str
    textbook: bool = False
    why_not: tuple[str, ...] = ()
    day: bool = False
    shown_at: str = ""
    news: News = field(default_factory=News)
    lacks: tuple[str, ...] = ()


@router.get("/predict")
def show_what_if(request: Request) -> HTMLResponse:
    """What a bag would do, as an address asks. Nothing is saved."""
    knowledge: Knowledge = request.app.state.knowledge
    patient = request.query_params.get("patient", "").strip()
    with reading(request.app.state.engine) as session:
        bedside = review_patient(session, knowledge, patient) if patient else None
        patients = patient_choices(session) if sees_patients(request) else ()
        shelf = shelf_of(session)
    asked = read_asked(_filled(request.query_params, bedside), knowledge.catalogue)
    view = with_stock(what_if_page(asked, bedside, patients, knowledge), shelf, knowledge.catalogue)
    status = UNREADABLE if view.faults else 200
    # Another patient changes the form as well; anything else only what follows from it.
    whole = request.headers.get("hx-target") == "predict"
    part = "predict/_predict.html" if whole else "predict/_course.html"
    return render(request, "predict/what_if.html", view, part=part, status=status)


def with_stock(view: WhatIfPage, shelf: Shelf, catalogue: Catalogue) -> WhatIfPage:
    """The page with what is told of the fluids it names: those tried, and, where sodium is watched
    over a day, the strong saline that is given when the brain answers.
    """
    rescue = (catalogue.get(RESCUE_SALINE),) if view.day and view.outlook else ()
    fluids = dict.fromkeys((*(bag.fluid for bag in view.asked.bags), *rescue))
    lacks = (lack_words(fluid, shelf.stock, shelf.now) for fluid in fluids)
    return replace(view, news=news_of(shelf.stock), lacks=tuple(filter(None, lacks)))


def _filled(query: QueryParams, bedside: Bedside | None) -> QueryParams:
    """With nothing asked of a patient but their name: what is left of the first order that can be
    told, with all else that runs.
    """
    asked = {name for name, text in query.items() if text.strip() and name not in CHOICES}
    if bedside is None or asked != {"patient"}:
        return query
    case, who = bedside.review.case, bedside.patient_id
    address = next((a for order in case.orders if (a := left_address(who, order, case))), "")
    chosen = urlencode({name: query.get(name, "") for name in CHOICES})
    return QueryParams(f"{address.partition('?')[2]}&{chosen}") if address else query


def what_if_page(
    asked: Asked,
    bedside: Bedside | None,
    patients: tuple[tuple[str, str], ...],
    knowledge: Knowledge,
) -> WhatIfPage:
    """The whole page from what was asked and the patient found."""
    if asked.patient and bedside is None:
        asked = asked.with_fault(FieldFault("Patient", asked.patient, "a patient on the unit now"))
    now = datetime.now(UTC)
    person, outlook = person_of(asked, bedside, now), None
    for fault in lacks_of(person):
        asked = asked.with_fault(fault)
    day = for_a_day(asked, person, knowledge.ruleset.limits)
    instead = replaced_order(asked, person.orders)
    cautions = () if asked.faults else _cautions(asked, person, instead, knowledge)
    try:
        outlook = None if asked.faults else _outlook(day, (person, instead), cautions, knowledge)
    except BaselineError as error:
        value = "nothing" if error.value is None else str(error.value)
        asked = asked.with_fault(FieldFault("Results", value, error.accepted))
    return WhatIfPage(
        asked=day if outlook else asked,
        faults=asked.faults,
        form=form_of(asked, person, instead, patients, knowledge.catalogue),
        patient=person.called,
        typed="" if person.called else typed_words(asked),
        unused=person.unused,
        outlook=outlook,
        cautions=cautions if outlook else (),
        start=START,
        textbook=is_textbook(person),
        why_not=_why_not(person) if outlook is None and not asked.bags else (),
        day=day is not asked,
        shown_at=clock_and_day(person.snapshot.now if person.snapshot else now),
    )


def _outlook(
    asked: Asked,
    whom: tuple[Person, Order | None],
    cautions: tuple[FluidCautions, ...],
    knowledge: Knowledge,
) -> Outlook | None:
    (person, instead), beside = whom, NOTHING_ELSE
    if person.called and person.case is not None and not asked.is_chosen("others", LEFT_OUT):
        beside = running_loads(
            person.case,
            leave_out=None if instead is None else instead.id,
            hours=asked.horizon_h,
            vehicles=knowledge.vehicles,
        )
    asking = asking_of(asked, person, cautions, beside)
    return outlook_of(asked, person, knowledge.ruleset.limits, beside, asking)


def _why_not(person: Person) -> tuple[str, ...]:
    """Why each order of a patient cannot be tried as it is."""
    if person.case is None:
        return ()
    return tuple(
        f"{capital(one.written)}: {why}"
        for one in person.orders
        if (why := why_not(one, person.case))
    )


def _cautions(
    asked: Asked, person: Person, instead: Order | None, knowledge: Knowledge
) -> tuple[FluidCautions, ...]:
    """What the rules say of each bag, in a patient of the unit or in figures as typed."""
    if person.case is None:
        return ()
    case, ruleset = person.case, knowledge.ruleset
    tried = (bag_cautions(bag, asked, case, ruleset, instead) for bag in asked.bags)
    return tuple(one for one in tried if one is not None)
