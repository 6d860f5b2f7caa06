"""The order page: an order being written, and what is found of it as one types."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import Annotated, Any, Final
from urllib.parse import urlencode

from fastapi import APIRouter, Depends, HTTPException, Request
from fastapi.responses import HTMLResponse

from app.catalogue.pairs.answer import PairBook
from app.catalogue.stock.stock import Stock
from app.intake.errors import InputError, InputErrors
from app.review.knowledge import Knowledge
from app.review.workflow import now_in, pair_book, review_noted, review_request
from app.storage.database import reading
from app.storage.patients import Bed, Unit, read_bed, read_beds, read_unit
from app.storage.stock import read_stock
from app.web.advice.panel import EMPTY, FaultLine, Panel, fault_panel, panel_of
from app.web.ahead.address import short_of
from app.web.ahead.order import insulin_named
from app.web.fluids.news import News, news_of
from app.web.order_form import (
    Field,
    FormView,
    KnownResults,
    fluid_field,
    form_view,
    label_of,
    row_counts,
    slots_of,
)
from app.web.order_form.form import (
    INSTEAD,
    MEANT,
    NEW_ORDER,
    PICKED,
    TYPED,
    Typed,
    asked,
    posted,
    typed,
)
from app.web.order_form.slots import Slot
from app.web.patients import result_row
from app.web.prediction.cautions import NONE_OF_THEM
from app.web.prediction.fields import INSULIN
from app.web.render import render, wants_part

router: Final = APIRouter(include_in_schema=False)
UNREADABLE: Final = 422
NOT_FOUND: Final = 404
PAGE: Final = "orders/new.html"
PART: Final = "orders/typed.html"
WHOLE: Final = "orders/_orders.html"


@dataclass(frozen=True, slots=True)
class OrderPage:
    """The form (None when only a part is drawn), what was found, and each field's message.

    fluid: the fluid's field anew, when a button has settled its name. link: the order's own
    address, without a word of the patient. compare: its fluid laid beside others for this patient;
    empty when the fluid is not known. ahead: what it will do, in short, for whom it is typed;
    empty where it cannot be told. beside_typed: something was typed that runs beside it
    and is not counted, as insulin is. did: the
    button that brought us here. typed: all that was typed, for a receipt of it.
    """

    form: FormView | None
    panel: Panel
    slots: Mapping[str, Slot]
    link: str
    fluid: Field | None = None
    compare: str = ""
    ahead: str = ""
    beside_typed: bool = False
    did: str = ""
    typed: str = ""
    news: News = field(default_factory=News)


@router.get("/orders/new")
def new_order(request: Request) -> HTMLResponse:
    """The page, filled from the address when it came as a link."""
    return _answer(request, typed(request.query_params))


@router.post("/orders/review")
def review_order(request: Request, form: Annotated[Typed, Depends(posted)]) -> HTMLResponse:
    """What is found of the order as typed. Nothing is saved."""
    return _answer(request, form)


@dataclass(frozen=True, slots=True)
class _Day:
    """What the unit knows besides: its moment, its stock, and its notes on pairs."""

    now: datetime
    stock: Stock
    book: PairBook


def _answer(request: Request, form: Typed) -> HTMLResponse:
    knowledge: Knowledge = request.app.state.knowledge
    whole = form.did in (PICKED, TYPED) or not wants_part(request)
    with reading(request.app.state.engine) as session:
        unit = read_unit(session)
        bed = read_bed(session, form.patient) if form.patient else None
        beds = read_beds(session, unit.id) if whole and unit is not None else ()
        day = _Day(now_in(unit), read_stock(session), pair_book(session, knowledge))
    if form.patient and bed is None:
        raise HTTPException(NOT_FOUND, "No such patient is on the unit now.")
    panel, messages = _panel(form, bed, knowledge, day)
    known = known_of(bed, unit, knowledge) if whole else ()
    view = OrderPage(
        form=form_view(form, bed, beds, knowledge, known) if whole else None,
        panel=panel,
        slots=slots_of(messages, row_counts(form, whole=whole), picked=bed is not None),
        link=f"/orders/new?{form.shared()}",
        fluid=fluid_field(form) if form.did == MEANT else None,
        compare=_compare(panel, form.patient),
        ahead=_ahead(panel, form),
        beside_typed=any(INSULIN not in row["with"].lower() for row in form.co_infusions),
        did=form.did,
        typed=form.everything(),
        news=news_of(day.stock),
    )
    part = WHOLE if whole else PART
    return render(request, PAGE, view, part=part, status=UNREADABLE if messages else 200)


def _compare(panel: Panel, patient: str) -> str:
    if panel.named is None or not panel.named.fluid_id:
        return ""
    for_patient = {"patient": patient} if patient else {}
    return f"/compare?{urlencode({'fluid': panel.named.fluid_id, **for_patient})}"


def _ahead(panel: Panel, form: Typed) -> str:
    """The short prediction of the order, beside what the patient has or for the one typed."""
    if not form.patient:
        return short_of(panel.ahead.address, **panel.ahead.person)
    instead = form.get(INSTEAD) or NONE_OF_THEM
    weight = panel.ahead.person.get("weight")
    named = [row["with"] for row in form.co_infusions if INSULIN in row["with"].lower()]
    besides = insulin_named(named, float(weight) if weight else None)
    return short_of(panel.ahead.address, patient=form.patient, instead=instead, **besides)


def known_of(bed: Bed | None, unit: Unit | None, knowledge: Knowledge) -> tuple[KnownResults, ...]:
    """The newest result of each name, by age, for the patient who was picked."""
    if bed is None:
        return ()
    patient = review_request(bed.request, knowledge, now=now_in(unit)).case.patient
    by_age: dict[str, list[str]] = {}
    for many in patient.results.values():
        row = result_row(many, patient)
        when = ", ".join(part for part in (row.state, f"{row.age} old") if part)
        by_age.setdefault(when, []).append(f"{row.name} {row.value} {row.unit}".strip())
    return tuple(KnownResults(when, ", ".join(results)) for when, results in by_age.items())


def _panel(
    form: Typed, bed: Bed | None, knowledge: Knowledge, day: _Day
) -> tuple[Panel, Mapping[str, str]]:
    """What stands beside the form, and the message of each field that cannot be read."""
    if not form.has_order:
        return EMPTY, {}
    fields: Mapping[str, str] = {}
    try:
        made = asked(form, bed.request if bed else None, day.now)
        fields = made.fields
        _, review = review_noted(made.request, knowledge, day.book, now=day.now)
    except InputError as error:
        return _faults((error,), fields)
    except InputErrors as errors:
        return _faults(errors.errors, fields)
    return panel_of(review, NEW_ORDER, knowledge, day.stock), {}


def _faults(
    errors: tuple[InputError, ...], fields: Mapping[str, str]
) -> tuple[Panel, Mapping[str, str]]:
    lines, messages = [], {}
    for error in errors:
        name = field_of(error.field, fields)
        text = message(name or error.field, error.value, error.accepted)
        lines.append(FaultLine(name or "order", text))
        messages[name] = text
    return fault_panel(tuple(lines)), messages


def field_of(path: str, fields: Mapping[str, str]) -> str:
    """The form field that a path of the request was typed in; a field's own name is itself."""
    while path not in fields and "." in path:
        path = path.rpartition(".")[0]
    return fields.get(path, path if "." not in path else "")


def message(name: str, value: Any, accepted: str) -> str:  # noqa: ANN401 - any typed value
    """Field, value, what is accepted: one sentence beside the field."""
    return f"{label_of(name)}: “{value}” is not accepted. Accepted: {accepted}."
