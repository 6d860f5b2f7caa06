"""Two to six fluids beside plasma and beside a patient's own results."""

from dataclasses import dataclass, replace
from typing import Final

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from app.catalogue.catalogue import Catalogue
from app.catalogue.comparison import Beside, Comparison, compare
from app.catalogue.find import find
from app.catalogue.fluid import Fluid
from app.catalogue.source import Source
from app.cautions.describe import source_text
from app.patient.known import NotKnown
from app.review.knowledge import Knowledge
from app.review.workflow import Bedside, review_patient
from app.storage.database import reading
from app.web.ahead.address import short_of
from app.web.comparison.asked import MOST_FLUIDS, Asked, read_asked
from app.web.comparison.bedside import OwnResults, own_results, patient_choices, who
from app.web.comparison.cautions import WhatIf, what_if
from app.web.comparison.table import Besides, Table, amounts_table, figures_table
from app.web.errors import FieldFault
from app.web.fluids.news import News, news_of
from app.web.fluids.reference import adult_plasma
from app.web.fluids.shelf import Shelf, StockView, shelf_of
from app.web.pictures.picture import Picture, ion_picture
from app.web.prediction.asked import tried_address
from app.web.prediction.cautions import NONE_OF_THEM
from app.web.render import render
from app.web.show import amount, number
from app.web.who import sees_patients

router: Final = APIRouter(include_in_schema=False)
UNREADABLE: Final = 422
MOST_FOUND: Final = 8
NOBODY_TOLD: Final = Shelf()
# Where to begin when nothing is chosen yet: the three a ward argues about.
FIRST_THREE: Final = (
    "sodium-chloride-0.9", "lactated-ringers", "multiple-electrolytes-type-1-ph-7.4",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Chosen:
    """A fluid in the comparison, where it is to be had, and the link without it."""

    id: str
    name: str
    remove: str
    stock: StockView


@dataclass(frozen=True, slots=True)
class Offer:
    """A fluid that can be added; add is empty when there is no room or it is chosen already."""

    name: str
    add: str
    why: str
    stock: StockView


@dataclass(frozen=True, slots=True)
class SourceLine:
    """One source of a column's figures."""

    name: str
    text: str
    seen: str


@dataclass(frozen=True, slots=True)
class ComparePage:
    """All that the compare page shows."""

    asked: Asked
    faults: tuple[FieldFault, ...]
    chosen: tuple[Chosen, ...]
    offers: tuple[Offer, ...]
    patients: tuple[tuple[str, str], ...]
    start: str
    basis: str
    picture: Picture
    amounts: Table
    figures: Table
    patient: str
    what_if: WhatIf | None
    rate: str
    usual_rate: str
    need_note: str
    sources: tuple[SourceLine, ...]
    share: str
    ahead: str
    unfold: str
    news: News


@router.get("/compare")
def show_comparison(request: Request) -> HTMLResponse:
    """The comparison an address asks for."""
    knowledge: Knowledge = request.app.state.knowledge
    asked = read_asked(request.query_params, knowledge.catalogue)
    with reading(request.app.state.engine) as session:
        bedside = review_patient(session, knowledge, asked.patient) if asked.patient else None
        patients = patient_choices(session) if sees_patients(request) else ()
        shelf = shelf_of(session)
    view = compare_page(asked, bedside, patients, knowledge, shelf)
    part = "compare/_found.html" if _wants(request, "found") else "compare/_comparison.html"
    status = UNREADABLE if view.faults else 200
    return render(request, "compare/compare.html", view, part=part, status=status)


def _wants(request: Request, target: str) -> bool:
    return request.headers.get("hx-target") == target


def compare_page(
    asked: Asked,
    bedside: Bedside | None,
    patients: tuple[tuple[str, str], ...],
    knowledge: Knowledge,
    shelf: Shelf = NOBODY_TOLD,
) -> ComparePage:
    """The whole page from what was asked, the patient found and what is told of stock."""
    asked = _asked_for(asked, bedside)
    own = None if bedside is None else own_results(bedside.review.case.patient)
    weight_kg = asked.weight_kg or (bedside.review.case.patient.weight_kg if bedside else None)
    comparison = _comparison(asked, own, weight_kg, is_adult=_is_adult(bedside))
    tried = _what_if(asked, bedside, knowledge, comparison)
    besides = replace(_besides(asked, own, weight_kg, tried), shelf=shelf)
    return ComparePage(
        asked=asked,
        faults=asked.faults,
        chosen=tuple(_chosen(fluid, asked, shelf) for fluid in asked.fluids),
        offers=_offers(asked, knowledge.catalogue, shelf),
        patients=patients,
        start=_start(asked, knowledge.catalogue),
        basis=comparison.basis.label,
        picture=ion_picture(adult_plasma(), asked.fluids),
        amounts=amounts_table(comparison, besides, differences=asked.differences),
        figures=figures_table(comparison, besides, differences=asked.differences),
        patient="" if bedside is None else who(bedside),
        what_if=tried,
        rate=amount(asked.rate_ml_h, "mL/h"),
        usual_rate=number(asked.rate_ml_h),
        need_note=_need_note(asked, weight_kg, is_adult=_is_adult(bedside)),
        sources=_sources(asked.fluids),
        share=asked.address(with_patient=False),
        ahead=_ahead(asked, bedside),
        unfold=replace(asked, differences=False).address(),
        news=news_of(shelf.stock),
    )


def _ahead(asked: Asked, bedside: Bedside | None) -> str:
    """The short prediction of the first two fluids, in place of the patient's first order."""
    address = tried_address(asked.patient, asked.fluids, asked.bag_ml, asked.rate_ml_h)
    if bedside is None:
        return short_of(address, weight=asked.typed.get("weight", "") if asked.weight_kg else "")
    orders = bedside.review.case.orders
    return short_of(address, instead=orders[0].id if orders else NONE_OF_THEM)


def _asked_for(asked: Asked, bedside: Bedside | None) -> Asked:
    """What was asked, at the rate of the patient found; one not found is a fault."""
    if asked.patient and bedside is None:
        fault = FieldFault("patient", asked.patient, "a patient on the unit now")
        asked = replace(asked, patient="", faults=(*asked.faults, fault))
    return asked.at_patients_rate(_running_ml_h(bedside))


def _chosen(fluid: Fluid, asked: Asked, shelf: Shelf) -> Chosen:
    return Chosen(fluid.id, fluid.name, asked.without(fluid.id).address(), shelf.view(fluid.id))


def _comparison(
    asked: Asked, own: OwnResults | None, weight_kg: float | None, *, is_adult: bool
) -> Comparison:
    beside = Beside(
        plasma=adult_plasma(),
        results=None if own is None else own.values,
        weight_kg=weight_kg if is_adult else None,
    )
    return compare(asked.fluids, beside, basis=asked.basis())


def _besides(
    asked: Asked, own: OwnResults | None, weight_kg: float | None, tried: WhatIf | None
) -> Besides:
    """Under a bag's amounts stand those of a litre, under a day's those for each kilogram."""
    about = frozenset() if tried is None else tried.about
    if asked.show == "bag":
        return Besides(own, about, compare(asked.fluids), "per litre")
    if asked.show == "day" and weight_kg is not None:
        per_kg = compare(asked.fluids, basis=asked.basis(weight_kg))
        return Besides(own, about, per_kg, "per kg")
    return Besides(own, about)


def _running_ml_h(bedside: Bedside | None) -> float | None:
    """The rate of the patient's first fluid order: what a fluid would be tried at."""
    orders = () if bedside is None else bedside.review.case.orders
    return orders[0].rate_ml_h if orders else None


def _is_adult(bedside: Bedside | None) -> bool:
    """Needs are an adult's; nobody chosen is taken as one, and the page says so."""
    if bedside is None:
        return True
    try:
        return bedside.review.case.patient.is_adult()
    except NotKnown:
        return False


def _need_note(asked: Asked, weight_kg: float | None, *, is_adult: bool) -> str:
    if asked.show != "day":
        return ""
    if not is_adult:
        return "Needs are shown for adults only."
    if weight_kg is None:
        return "No weight: amounts per kg and daily needs are not shown. Give a weight above."
    return (
        f"Need: an adult's routine day at {number(weight_kg)} kg, about 1 mmol of each salt per kg "
        "(NICE CG174, 2013, seen quoted). Losses, illness and drinking are not counted."
    )


def _what_if(
    asked: Asked, bedside: Bedside | None, knowledge: Knowledge, comparison: Comparison
) -> WhatIf | None:
    if bedside is None or not asked.fluids:
        return None
    rows = [row.head.key for row in (*comparison.amounts, *comparison.figures)]
    case = bedside.review.case
    return what_if(case, asked.fluids, asked.rate_ml_h, knowledge.ruleset, rows)


def _offers(asked: Asked, catalogue: Catalogue, shelf: Shelf) -> tuple[Offer, ...]:
    found = find(catalogue, asked.find).found[:MOST_FOUND] if asked.find else ()
    return tuple(_offer(each.fluid, asked, shelf.view(each.fluid.id)) for each in found)


def _offer(fluid: Fluid, asked: Asked, stock: StockView) -> Offer:
    if fluid in asked.fluids:
        return Offer(fluid.name, "", "already here", stock)
    if len(asked.fluids) >= MOST_FLUIDS:
        return Offer(fluid.name, "", f"{MOST_FLUIDS} are the most; take one away first", stock)
    return Offer(fluid.name, asked.with_fluid(fluid).address(), fluid.never_hung, stock)


def _start(asked: Asked, catalogue: Catalogue) -> str:
    """A link to begin with, when no fluid is chosen."""
    if asked.fluids:
        return ""
    known = (catalogue.get(fluid_id) for fluid_id in FIRST_THREE)
    return replace(asked, fluids=tuple(f for f in known if f is not None)).address()


def _sources(fluids: tuple[Fluid, ...]) -> tuple[SourceLine, ...]:
    """Where each column's figures come from; plasma's by source, with what each vouches for."""
    plasma: dict[tuple[str, str, bool], list[str]] = {}
    for value in adult_plasma().values:
        source = value.source
        plasma.setdefault((source.work, source.place, source.seen), []).append(value.name)
    lines = [
        (f"Plasma ({', '.join(names)})", source_text(Source(work, place, seen)))
        for (work, place, seen), names in plasma.items()
    ]
    lines += [(f.name, source_text(s)) for f in fluids for s in f.sources_of("composition")]
    return tuple(dict.fromkeys(SourceLine(name, s.text, s.seen) for name, s in lines))
