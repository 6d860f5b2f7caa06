"""All fluids, and one fluid's card, on which its stock is told."""

from dataclasses import dataclass, replace
from typing import Annotated, Final

from fastapi import APIRouter, Form, HTTPException, Query, Request, Response
from fastapi.responses import HTMLResponse, RedirectResponse

from app.catalogue.catalogue import Catalogue
from app.catalogue.entry import EntryError
from app.catalogue.find import find
from app.catalogue.fluid import Fluid
from app.catalogue.stock.reading import LONGEST_NAME, state_from
from app.cautions.rule import Rule
from app.review.knowledge import Knowledge, Past
from app.review.workflow import now_in
from app.security.acts import Act
from app.storage.database import reading, transaction
from app.storage.patients import read_unit
from app.web.changes.fluid_history import Said, own_entry
from app.web.changes.signed import here
from app.web.fluids import card
from app.web.fluids.card import Checked, Computed, MadeOf, Sourced, Variant
from app.web.fluids.cautions import cautions_of
from app.web.fluids.groups import Group, fluid_row, group_of, grouped
from app.web.fluids.news import News, news_of
from app.web.fluids.reference import adult_plasma
from app.web.fluids.shelf import Shelf, shelf_of
from app.web.fluids.stock_form import StockCard, stock_card
from app.web.fluids.told import tell
from app.web.pictures.picture import Picture, ion_picture
from app.web.render import SEE_OTHER, render
from app.web.show import amount
from app.web.who import person_of, signed_in

router: Final = APIRouter(include_in_schema=False)
NOT_FOUND: Final = 404
UNREADABLE: Final = 422
LONGEST_SEARCH: Final = 80
PAGE: Final = "catalogue/fluid.html"


@dataclass(frozen=True, slots=True)
class CataloguePage:
    """The fluids in groups, or what a search found. read_as: conditions understood in it."""

    find: str
    read_as: tuple[str, ...]
    groups: tuple[Group, ...]
    count: int
    version: str
    news: News
    may_draft: bool = False


@dataclass(frozen=True, slots=True)
class FluidPage:
    """Everything on one fluid's card."""

    fluid: Fluid
    group: str
    picture: Picture
    made_of: tuple[MadeOf, ...]
    pack_sizes: tuple[str, ...]
    computed: tuple[Computed, ...]
    checked: tuple[Checked, ...]
    tonicity: str
    ph: str
    energy: str
    variants: tuple[Variant, ...]
    cautions: tuple[Rule, ...]
    sourced: tuple[Sourced, ...]
    version: str
    stock: StockCard
    news: News
    own: Said | None = None
    may_draft: bool = False


@router.get("/catalogue")
def list_fluids(request: Request, words: Annotated[str, Query(alias="find")] = "") -> HTMLResponse:
    """Every fluid, or those a search finds."""
    knowledge: Knowledge = request.app.state.knowledge
    with reading(request.app.state.engine) as session:
        shelf = shelf_of(session)
    view = catalogue_page(knowledge.catalogue, words[:LONGEST_SEARCH].strip(), shelf)
    view = replace(view, may_draft=_may_draft(request))
    return render(request, "catalogue/list.html", view, part="catalogue/_fluids.html")


@router.get("/catalogue/{fluid_id}")
def show_fluid(request: Request, fluid_id: str) -> HTMLResponse:
    """One fluid's card."""
    knowledge: Knowledge = request.app.state.knowledge
    fluid = _fluid(fluid_id, knowledge)
    with reading(request.app.state.engine) as session:
        shelf = shelf_of(session)
        stock = replace(stock_card(session, fluid.id, shelf), teller=teller_of(request))
        own = own_entry(fluid.id, Past.of(session), here(session))
    page = fluid_page(fluid, knowledge, shelf, stock)
    page = replace(page, own=own, may_draft=_may_draft(request))
    return render(request, PAGE, page)


@router.post("/catalogue/{fluid_id}/stock")
def tell_of_stock(
    request: Request,
    fluid_id: str,
    state: Annotated[str, Form()] = "",
    note: Annotated[str, Form()] = "",
) -> Response:
    """Add what somebody tells of a fluid's stock, and go back to its card."""
    knowledge: Knowledge = request.app.state.knowledge
    fluid = _fluid(fluid_id, knowledge)
    typed = {"state": state, "note": note, "by": signed_in(request).name[:LONGEST_NAME]}
    with transaction(request.app.state.engine) as session:
        try:
            told = state_from(typed, now_in(read_unit(session)))
        except EntryError as fault:
            shelf = shelf_of(session)
            stock = stock_card(session, fluid.id, shelf, typed, fault)
            stock = replace(stock, teller=teller_of(request))
            view = fluid_page(fluid, knowledge, shelf, stock)
            return render(request, PAGE, view, status=UNREADABLE)
        tell(request, session, fluid.id, told)
    return RedirectResponse(f"/catalogue/{fluid.id}#stock", SEE_OTHER)


@router.get("/catalogue/{fluid_id}/stock")
def stock_of_fluid(request: Request, fluid_id: str) -> Response:
    """Back to the card: where looking again leads from a form that was not accepted."""
    fluid = _fluid(fluid_id, request.app.state.knowledge)
    return RedirectResponse(f"/catalogue/{fluid.id}#stock", SEE_OTHER)


def teller_of(request: Request) -> str:
    """The name of whoever may tell; empty for everybody else."""
    person = person_of(request)
    return person.name if person and person.may(Act.TELL) else ""


def _may_draft(request: Request) -> bool:
    person = person_of(request)
    return person is not None and person.may(Act.DRAFT)


def _fluid(fluid_id: str, knowledge: Knowledge) -> Fluid:
    fluid = knowledge.catalogue.get(fluid_id)
    if fluid is None:
        raise HTTPException(NOT_FOUND, f"The catalogue has no fluid “{fluid_id}”.")
    return fluid


def catalogue_page(catalogue: Catalogue, words: str, shelf: Shelf) -> CataloguePage:
    """All groups, or one group of what was found, best first."""
    read_as: tuple[str, ...] = ()
    if not words:
        groups = grouped(catalogue, shelf)
    else:
        answer = find(catalogue, words)
        found = tuple(fluid_row(each.fluid, shelf) for each in answer.found)
        groups = (Group(f"Found for “{words}”", found),) if found else ()
        read_as = tuple(condition.words for condition in answer.conditions)
    news = news_of(shelf.stock)
    return CataloguePage(words, read_as, groups, len(catalogue), catalogue.version, news)


def fluid_page(fluid: Fluid, knowledge: Knowledge, shelf: Shelf, stock: StockCard) -> FluidPage:
    """The whole card."""
    catalogue = knowledge.catalogue
    return FluidPage(
        fluid=fluid,
        group=group_of(fluid),
        picture=ion_picture(adult_plasma(), (fluid,)),
        made_of=card.made_of(fluid),
        pack_sizes=tuple(amount(size, "mL") for size in fluid.pack_sizes_ml),
        computed=card.computed(fluid),
        checked=card.checked(fluid),
        tonicity=fluid.tonicity_class or "not known: no chloride on the label",
        ph=card.ph_text(fluid),
        energy="not on the label"
        if fluid.energy_kcal_l is None
        else amount(fluid.energy_kcal_l, "kcal/L"),
        variants=card.variants(fluid, catalogue),
        cautions=cautions_of(fluid, knowledge),
        sourced=card.sourced(fluid),
        version=catalogue.version,
        stock=stock,
        news=news_of(shelf.stock),
    )
