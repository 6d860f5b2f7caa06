"""One patient: what is known and since when, what runs, and what is found."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final
from urllib.parse import urlencode

from fastapi import APIRouter, HTTPException, Request
from fastapi.responses import HTMLResponse

from app.catalogue.pairs.answer import NO_BOOK, PairBook
from app.catalogue.stock.stock import NOTHING_TOLD, Stock
from app.patient.access import Lumen
from app.patient.case import Case
from app.patient.lumen_told import LumenTold, with_placed
from app.patient.observation import Observation
from app.patient.order import Order
from app.patient.snapshot import Snapshot
from app.review.assess import OrderReview
from app.review.knowledge import Knowledge
from app.review.ledger.ledger import ledger_of
from app.review.pairs.noted import notes_in
from app.review.workflow import Bedside, pair_book, review_patient
from app.storage.database import reading
from app.storage.lines.told import read_told
from app.storage.stock import read_stock
from app.web import show
from app.web.advice.bag import BagView, bag_view
from app.web.advice.findings import FindingView, findings_of
from app.web.advice.ledger import LedgerView, ledger_view
from app.web.advice.loads import LoadsView, loads_view
from app.web.advice.missing import MissingView, missing_of
from app.web.advice.order_words import order_words
from app.web.advice.panel import headline
from app.web.advice.understood import (
    Asked,
    Understood,
    questions_of,
    understood_others,
    understood_words,
)
from app.web.ahead.address import (
    alone_address,
    is_several,
    left_address,
    short_of,
    together_address,
    why_not,
)
from app.web.changes.silent import SilentView, silent_of
from app.web.comparison.asked import MOST_FLUIDS
from app.web.fluids.news import News, news_of
from app.web.fluids.shelf import lack_words
from app.web.pairs.asked import address_of
from app.web.render import render
from app.web.show import Aligned

router: Final = APIRouter(include_in_schema=False)
NOT_FOUND: Final = 404
RESULT_PLACES: Final = 3
# What was turned into the project's unit is shown as it is said to have been read.
CONVERTED_PLACES: Final = 2


@dataclass(frozen=True, slots=True)
class ResultRow:
    """The newest result of one name, with its time and age, and the one before it.

    state: "stale" or "not used". doubt: why it is not used, or what was done to it.
    """

    name: str
    value: Aligned
    unit: str
    at: str
    age: str
    before: str
    state: str
    doubt: str

    @property
    def ago(self) -> str:
        """How long ago it was taken; empty when that is not known."""
        return "" if self.age == show.NOT_KNOWN else f"{self.age} ago"


@dataclass(frozen=True, slots=True)
class LineRow:
    """One lumen and what runs by it. failed: when that was told, empty where it was not."""

    name: str
    site: str
    runs: str
    failed: str = ""


@dataclass(frozen=True, slots=True)
class OrderRow:
    """One running order: in words, its fluid's card, what is in the bag, what it brings.

    fluid_id, fluid_name: empty when no one fluid was understood. lack: that it is out or withdrawn.
    ahead: where it is told what is left of it will do, with all else that runs; alone: by itself,
    where something else runs. Both are empty where it cannot be told; why_not: why, then.
    """

    words: str
    purpose: str
    fluid_id: str
    fluid_name: str
    bag: BagView
    loads: LoadsView
    lack: str
    ahead: str = ""
    alone: str = ""
    why_not: str = ""


@dataclass(frozen=True, slots=True)
class PatientPage:
    """Everything the page may use. at: the moment of the review, as a receipt of it needs it.

    together: what all that runs will do; empty where only one order does, which is told with all
    else that runs, or where nothing can be told.
    sharing: where it is told what of it may share a lumen, empty with nothing to pair. signed: what
    local notes say of it.
    """

    patient_id: str
    bed: str
    at: str
    who: str
    compare: str
    facts: tuple[tuple[str, str], ...]
    headline: str
    findings: tuple[FindingView, ...]
    missing: tuple[MissingView, ...]
    silent: tuple[SilentView, ...]
    questions: tuple[Asked, ...]
    results: tuple[ResultRow, ...]
    conditions: tuple[Understood, ...]
    medications: tuple[Understood, ...]
    orders: tuple[OrderRow, ...]
    totals: LoadsView | None
    together: str
    ledger: LedgerView
    lines: tuple[LineRow, ...]
    others: tuple[Understood, ...]
    news: News
    sharing: str
    signed: tuple[str, ...]


@router.get("/patients/{patient_id}")
def patient(request: Request, patient_id: str) -> HTMLResponse:
    """One patient's page."""
    knowledge: Knowledge = request.app.state.knowledge
    with reading(request.app.state.engine) as session:
        bed = review_patient(session, knowledge, patient_id)
        stock = read_stock(session)
        book = pair_book(session, knowledge)
        told = read_told(session, patient_id)
    if bed is None:
        raise HTTPException(NOT_FOUND, "No such patient is on the unit now.")
    page = patient_page(bed, knowledge, stock, book, told)
    return render(request, "patients/patient.html", page)


def patient_page(
    bed: Bedside,
    knowledge: Knowledge,
    stock: Stock = NOTHING_TOLD,
    book: PairBook = NO_BOOK,
    told: Mapping[str, LumenTold] = MappingProxyType({}),
) -> PatientPage:
    """The page of one reviewed bed."""
    review, case = bed.review, bed.review.case
    findings = findings_of(review, knowledge, stock=stock)
    missing, silent = missing_of(review, knowledge.ruleset), silent_of(review)
    return PatientPage(
        patient_id=bed.patient_id,
        bed=bed.bed,
        at=case.now.isoformat(),
        who=show.person(bed.initials, case.patient.age_years, case.patient.weight_kg),
        compare=compare_address(bed.patient_id, case.orders),
        facts=facts_of(case.patient),
        headline=headline(findings, missing, silent),
        findings=findings,
        missing=missing,
        silent=silent,
        questions=questions_of(case),
        results=tuple(
            result_row(many, case.patient) for many in case.patient.results.values() if many
        ),
        conditions=understood_words(case.patient.conditions),
        medications=understood_words(case.patient.medications),
        orders=tuple(_order_row(order, case, stock, bed.patient_id) for order in review.orders),
        totals=loads_view(review.totals, case.patient) if len(review.orders) > 1 else None,
        together=short_of(together_address(bed.patient_id, case)) if len(review.orders) > 1 else "",
        ledger=ledger_view(ledger_of(case, knowledge.vehicles)),
        lines=_lines(case, told),
        others=understood_others(case),
        news=news_of(stock),
        sharing=address_of(case),
        signed=notes_in(case, book),
    )


def compare_address(patient_id: str, orders: Iterable[Order]) -> str:
    """The comparison of what runs, for this patient."""
    running = dict.fromkeys(order.fluid.id for order in orders if order.fluid)
    pairs = [("fluid", fluid_id) for fluid_id in list(running)[:MOST_FLUIDS]]
    return f"/compare?{urlencode([*pairs, ('patient', patient_id)])}"


def facts_of(patient: Snapshot) -> tuple[tuple[str, str], ...]:
    """Who this is, as pairs; what is not known says so."""
    weight = show.amount(patient.weight_kg, "kg", 2)
    if patient.weight_taken_at is not None:
        weight += f" ({show.clock(patient.weight_taken_at, patient.now)})"
    return (
        ("Where", patient.setting or show.NOT_KNOWN),
        ("Age", show.person_age(patient.age_years)),
        ("Sex", patient.sex or show.NOT_KNOWN),
        ("Weight", weight),
        ("Height", show.amount(patient.height_cm, "cm")),
        ("Urine", show.amount(patient.urine_ml_h, "mL/h")),
        ("Balance, 24 h", show.amount(patient.balance_24h_ml, "mL")),
    )


def result_row(many: tuple[Observation, ...], patient: Snapshot) -> ResultRow:
    """Results of one name, newest first, as a row; stale and unusable ones say so."""
    one = many[0]
    state = "not used" if one.value is None else ""
    if one.value is not None and one.is_stale(patient.now):
        state = "stale"
    value = Aligned(one.as_written or show.NOT_KNOWN)
    if one.value is not None:
        value = show.aligned(one.value, CONVERTED_PLACES if one.converted else RESULT_PLACES)
    return ResultRow(
        name=show.capital(show.name_text(one.name)),
        value=value,
        unit="" if one.value is None else show.unit_text(one.unit),
        at=show.clock(one.taken_at, patient.now),
        age=show.about(one.age(patient.now)),
        before=", ".join(_before(old, patient) for old in many[1:]),
        state=state,
        doubt=one.doubt or one.converted,
    )


def _before(one: Observation, patient: Snapshot) -> str:
    value = one.as_written if one.value is None else show.number(one.value, RESULT_PLACES)
    return f"{value}, {show.about(one.age(patient.now))}"


def _lines(case: Case, told: Mapping[str, LumenTold]) -> tuple[LineRow, ...]:
    lumens = with_placed(case.patient.access, told)
    return tuple(line_row(lumen, case, told.get(lumen.id)) for lumen in lumens)


def line_row(line: Lumen, case: Case, told: LumenTold | None = None) -> LineRow:
    """One lumen with everything that is said to run by it."""
    runs = [show.name_text(order.written) for order in case.orders if order.lumen == line.id]
    runs += [other.name for other in case.co_infusions if other.lumen == line.id]
    return LineRow(
        name=line.id,
        site=_site(line, told),
        runs="; ".join(runs) or "nothing recorded",
        failed=_failed(told, case),
    )


def _site(line: Lumen, told: LumenTold | None) -> str:
    site = line.site or "site not known"
    return f"{site}, {told.size}" if told is not None and told.size else site


def _failed(told: LumenTold | None, case: Case) -> str:
    if told is None or told.state != "failed":
        return ""
    return f"failed, told {show.clock(told.at, case.now)}"


def _order_row(reviewed: OrderReview, case: Case, stock: Stock, patient_id: str) -> OrderRow:
    order = reviewed.order
    return OrderRow(
        words=order_words(order, case.now),
        purpose=show.capital(order.purpose or order.purpose_written or "purpose not stated"),
        fluid_id=order.fluid.id if order.fluid else "",
        fluid_name=order.fluid.name if order.fluid else "",
        bag=bag_view(order),
        loads=loads_view(reviewed.loads, case.patient),
        lack=lack_words(order.fluid, stock, case.now),
        ahead=short_of(left_address(patient_id, order, case)),
        alone=short_of(alone_address(patient_id, order, case)) if is_several(case) else "",
        why_not=why_not(order, case),
    )
