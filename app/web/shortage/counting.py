"""One fluid's bags: what was counted where and when, and the form that counts anew."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Annotated, Final

from fastapi import APIRouter, Depends, HTTPException, Request, Response
from fastapi.responses import HTMLResponse, RedirectResponse
from sqlalchemy.orm import Session
from starlette.datastructures import FormData

from app.catalogue.entry import EntryError
from app.catalogue.fluid import Fluid
from app.catalogue.stock.counting import counts_from, field_of
from app.catalogue.stock.counts import IN_WORDS, PLACES, BagCount, Counts
from app.review.knowledge import Knowledge
from app.review.workflow import now_in
from app.security.person import Person
from app.storage.audit.trail import record
from app.storage.database import reading, transaction
from app.storage.patients import read_unit
from app.storage.shortage.counts import read_counted_of, read_counts, tell_counts
from app.web.fluids.news import News, news_of
from app.web.fluids.shelf import StockView, shelf_of
from app.web.render import SEE_OTHER, render
from app.web.shortage.words import size_text
from app.web.show import capital, clock, count
from app.web.who import signed_in

router: Final = APIRouter(include_in_schema=False)
NOT_FOUND: Final = 404
UNREADABLE: Final = 422
SHOWN: Final = 12
PAGE: Final = "shortage/counts.html"


@dataclass(frozen=True, slots=True)
class Field:
    """One number to write: bags of one size in one place. last: what was counted before."""

    name: str
    label: str
    last: str
    typed: str
    fault: str


@dataclass(frozen=True, slots=True)
class CountsPage:
    """The page. fault: that nothing was counted at all."""

    fluid: Fluid
    stock: StockView
    fields: tuple[Field, ...]
    earlier: tuple[str, ...]
    fault: str
    by: str
    news: News


async def sent_form(request: Request) -> FormData:
    """The form as it was sent: its fields are named by the fluid's own sizes."""
    return await request.form()


@router.get("/catalogue/{fluid_id}/counts")
def show_counts(request: Request, fluid_id: str) -> HTMLResponse:
    """What was counted of one fluid, and the form."""
    fluid = _fluid(request, fluid_id)
    with reading(request.app.state.engine) as session:
        view = _page(request, session, fluid)
    return render(request, PAGE, view)


@router.post("/catalogue/{fluid_id}/counts")
def tell_counted(
    request: Request, fluid_id: str, form: Annotated[FormData, Depends(sent_form)]
) -> Response:
    """Add what somebody counted, with its act in the trail."""
    fluid, person = _fluid(request, fluid_id), signed_in(request)
    typed = {name: value for name, value in form.items() if isinstance(value, str)}
    with transaction(request.app.state.engine) as session:
        now = now_in(read_unit(session))
        try:
            counted = counts_from(typed, fluid, now, person.name)
        except EntryError as fault:
            view = _page(request, session, fluid, typed, fault)
            return render(request, PAGE, view, status=UNREADABLE)
        _tell(session, person, fluid, counted)
    return RedirectResponse(f"/catalogue/{fluid.id}/counts", SEE_OTHER)


def _tell(session: Session, person: Person, fluid: Fluid, counted: tuple[BagCount, ...]) -> None:
    before = read_counts(session)
    tell_counts(session, counted)
    was = {_key(one): _bags(before, one) for one in counted}
    record(
        session, at=datetime.now(UTC), who=person.name, account_id=person.account_id,
        act="count-bags", subject=f"stock:{fluid.id}", before=was,
        after={_key(one): one.bags for one in counted},
    )  # fmt: skip


def _key(one: BagCount) -> str:
    return f"{one.size_ml} mL, {one.place}"


def _bags(before: Counts, one: BagCount) -> int | None:
    last = before.get(one.fluid_id, one.size_ml, one.place)
    return None if last is None else last.bags


def _fluid(request: Request, fluid_id: str) -> Fluid:
    knowledge: Knowledge = request.app.state.knowledge
    fluid = knowledge.catalogue.get(fluid_id)
    if fluid is None:
        raise HTTPException(NOT_FOUND, f"The catalogue has no fluid “{fluid_id}”.")
    return fluid


def _page(
    request: Request,
    session: Session,
    fluid: Fluid,
    typed: Mapping[str, str] | None = None,
    fault: EntryError | None = None,
) -> CountsPage:
    shelf, counts = shelf_of(session), read_counts(session)
    words = {} if fault is None else {fault.field: _message(fault)}
    told = read_counted_of(session, fluid.id, SHOWN)
    return CountsPage(
        fluid=fluid,
        stock=shelf.view(fluid.id),
        fields=_fields(fluid, counts, shelf.now, typed or {}, words),
        earlier=tuple(_told(one, shelf.now) for one in told),
        fault=words.get("bags", ""),
        by=signed_in(request).name,
        news=news_of(shelf.stock),
    )


def _fields(
    fluid: Fluid, counts: Counts, now: datetime, typed: Mapping[str, str], faults: Mapping[str, str]
) -> tuple[Field, ...]:
    fields = []
    for size in sorted(fluid.pack_sizes_ml, reverse=True):
        for place in PLACES:
            name, last = field_of(size, place), counts.get(fluid.id, size, place)
            fields.append(
                Field(
                    name=name,
                    label=f"{size_text(size)} {IN_WORDS[place]}",
                    last="not counted" if last is None else f"{last.bags}, {clock(last.at, now)}",
                    typed=typed.get(name, ""),
                    fault=faults.get(name, ""),
                )
            )
    return tuple(fields)


def _told(one: BagCount, now: datetime) -> str:
    bags = capital(count(one.bags, "bag"))
    by = f", counted by {one.by}" if one.by else ""
    return f"{bags} of {size_text(one.size_ml)} {IN_WORDS[one.place]}, {clock(one.at, now)}{by}"


def _message(fault: EntryError) -> str:
    if not fault.value:
        return f"Bags: nothing is written. Accepted: {fault.accepted}."
    return f"Bags: “{fault.value}” is not accepted. Accepted: {fault.accepted}."
