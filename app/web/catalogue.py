"""All fluids, and one fluid's card."""

from dataclasses import dataclass
from typing import Annotated, Final

from fastapi import APIRouter, HTTPException, Query, Request
from fastapi.responses import HTMLResponse

from app.catalogue.catalogue import Catalogue
from app.catalogue.find import find
from app.catalogue.fluid import Fluid
from app.cautions.rule import Rule
from app.review.knowledge import Knowledge
from app.web.fluids import card
from app.web.fluids.card import Checked, Computed, MadeOf, Sourced, Variant
from app.web.fluids.cautions import cautions_of
from app.web.fluids.groups import Group, fluid_row, group_of, grouped
from app.web.fluids.reference import adult_plasma
from app.web.pictures.picture import Picture, ion_picture
from app.web.render import render
from app.web.show import amount

router: Final = APIRouter(include_in_schema=False)
NOT_FOUND: Final = 404
LONGEST_SEARCH: Final = 80


@dataclass(frozen=True, slots=True)
class CataloguePage:
    """The fluids in groups, or what a search found. read_as: conditions understood in it."""

    find: str
    read_as: tuple[str, ...]
    groups: tuple[Group, ...]
    count: int
    version: str


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


@router.get("/catalogue")
def list_fluids(request: Request, words: Annotated[str, Query(alias="find")] = "") -> HTMLResponse:
    """Every fluid, or those a search finds."""
    knowledge: Knowledge = request.app.state.knowledge
    view = catalogue_page(knowledge.catalogue, words[:LONGEST_SEARCH].strip())
    return render(request, "catalogue/list.html", view, part="catalogue/_fluids.html")


@router.get("/catalogue/{fluid_id}")
def show_fluid(request: Request, fluid_id: str) -> HTMLResponse:
    """One fluid's card."""
    knowledge: Knowledge = request.app.state.knowledge
    fluid = knowledge.catalogue.get(fluid_id)
    if fluid is None:
        raise HTTPException(NOT_FOUND, f"The catalogue has no fluid “{fluid_id}”.")
    return render(request, "catalogue/fluid.html", fluid_page(fluid, knowledge))


def catalogue_page(catalogue: Catalogue, words: str) -> CataloguePage:
    """All groups, or one group of what was found, best first."""
    read_as: tuple[str, ...] = ()
    if not words:
        groups = grouped(catalogue)
    else:
        answer = find(catalogue, words)
        found = tuple(fluid_row(each.fluid) for each in answer.found)
        groups = (Group(f"Found for “{words}”", found),) if found else ()
        read_as = tuple(condition.words for condition in answer.conditions)
    return CataloguePage(words, read_as, groups, len(catalogue), catalogue.version)


def fluid_page(fluid: Fluid, knowledge: Knowledge) -> FluidPage:
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
    )
