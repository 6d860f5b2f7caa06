"""The shift board: every order of the unit reviewed, worst first."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from functools import partial
from types import MappingProxyType
from typing import Final

from fastapi import APIRouter, BackgroundTasks, Request
from fastapi.responses import HTMLResponse

from app.catalogue.stock.stock import NOTHING_TOLD, Stock
from app.patient.lumen_told import LumenTold, failed_in
from app.review.knowledge import Knowledge
from app.review.lines.bedside.due import AHEAD_MIN, Due, due_of
from app.review.lines.bedside.lumens import with_told
from app.review.shift import ShiftRow, shift_of
from app.review.workflow import Bedside, Kept, now_in, review_unit
from app.storage.database import reading
from app.storage.lines.told import read_all_told
from app.storage.patients import Bed, read_unit
from app.storage.stock import read_stock
from app.web import show
from app.web.advice.findings import LOUD, FindingView, offers_of, row_view
from app.web.advice.missing import MissingView, missing_of
from app.web.advice.order_words import order_words
from app.web.changes.silent import SilentView, silent_of
from app.web.fluids.news import News, news_of
from app.web.fluids.shelf import lack_words
from app.web.render import render

router: Final = APIRouter(include_in_schema=False)


@dataclass(frozen=True, slots=True)
class Row:
    """One bed. lead: its worst finding; more: its other loud ones; notes: what may be known.

    lacks: which of its fluids are out or withdrawn. silent: rules that are switched off here and
    would have spoken. short: that it has fewer lumens than infusions
    due soon, in words; empty where it has not.
    """

    patient_id: str
    bed: str
    who: str
    lead: FindingView | None
    more: tuple[FindingView, ...]
    notes: tuple[FindingView, ...]
    missing: tuple[MissingView, ...]
    orders: tuple[str, ...]
    lacks: tuple[str, ...]
    silent: tuple[SilentView, ...] = ()
    short: str = ""


@dataclass(frozen=True, slots=True)
class Told:
    """What people told: where fluids are, and of lumens, by patient."""

    stock: Stock = NOTHING_TOLD
    lumens: Mapping[str, Mapping[str, LumenTold]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class ShiftPage:
    """The whole board. first is unfolded; the other groups are one line each until opened.

    short: the beds with fewer lumens than infusions due until then.
    """

    moment: str
    results_up_to: str
    patients: str
    orders: str
    headline: str
    first: tuple[Row, ...]
    check: tuple[Row, ...]
    missing: tuple[Row, ...]
    nothing: tuple[Row, ...]
    news: News
    short: tuple[Row, ...] = ()
    short_until: str = ""


@router.get("/")
def shift(request: Request, later: BackgroundTasks) -> HTMLResponse:
    """The board, or its list alone when htmx looks again. Beds that changed are kept, without
    their people, as past orders.
    """
    state = request.app.state
    knowledge: Knowledge = state.knowledge
    with reading(state.engine) as session:
        unit = read_unit(session)
        beds = review_unit(session, knowledge, state.kept_beds)
        told = Told(read_stock(session), read_all_told(session))
    now = now_in(unit)
    view = shift_page(beds, knowledge, now, state.kept_rows, told)
    if unit is not None and unit.fixed_now is None:
        stand = [Bed(bed.patient_id, bed.bed, bed.initials, bed.request) for bed in beds]
        later.add_task(state.keeper.keep, state.engine, stand, now, knowledge.vocabulary)
    return render(request, "shift/board.html", view, part="shift/_board.html")


def shift_page(
    beds: tuple[Bedside, ...],
    knowledge: Knowledge,
    now: datetime,
    kept: Kept[Row] | None = None,
    told: Told | None = None,
) -> ShiftPage:
    """The board of these beds at this moment. kept: rows of beds that have not changed."""
    told = told or Told()
    shift = shift_of((bed, bed.review) for bed in beds)
    kept = kept or Kept()
    rows = [_kept_row(one, knowledge, told, kept) for one in shift.rows]
    loud = [row for row in rows if row.lead]
    quiet = [row for row in rows if not row.lead]
    opened = len(shift.open)
    return ShiftPage(
        moment=f"{show.day(now)} {now.year}, {now:%H:%M}",
        results_up_to=results_up_to(beds, now),
        patients=show.count(len(beds), "patient"),
        orders=show.count(sum(len(bed.review.orders) for bed in beds), "order"),
        headline=headline(shift.to_call, shift.to_check),
        first=tuple(loud[:opened]),
        check=tuple(loud[opened:]),
        missing=tuple(r for r in quiet if r.missing or r.silent),
        nothing=tuple(r for r in quiet if not (r.missing or r.silent)),
        news=news_of(told.stock),
        short=tuple(sorted((row for row in rows if row.short), key=lambda row: row.bed)),
        short_until=f"{now + timedelta(minutes=AHEAD_MIN):%H:%M}",
    )


def _kept_row(one: ShiftRow[Bedside], knowledge: Knowledge, told: Told, kept: Kept[Row]) -> Row:
    lumens = told.lumens.get(one.key.patient_id, {})
    rests_on = knowledge, told.stock, one.key, lumens
    make = partial(row_of, one, knowledge, told.stock, lumens)
    return kept.get(one.key.patient_id, rests_on, make)


def row_of(
    one: ShiftRow[Bedside],
    knowledge: Knowledge,
    stock: Stock,
    lumens: Mapping[str, LumenTold] = MappingProxyType({}),
) -> Row:
    """One bed's row. lumens: what was told of its lumens."""
    bed, case = one.key, one.review.case
    offers = offers_of(one.review, knowledge, stock)
    found = tuple(row_view(row, case, offers) for row in one.rows)
    lacks = (lack_words(order.fluid, stock, case.now) for order in case.orders)
    loud = tuple(f for f in found if f.level in LOUD)
    patient = case.patient
    return Row(
        patient_id=bed.patient_id,
        bed=bed.bed,
        who=f"{bed.initials}, {show.person_age(patient.age_years)}, "
        f"{show.weight(patient.weight_kg)}",
        lead=loud[0] if loud else None,
        more=loud[1:],
        notes=tuple(f for f in found if f.level not in LOUD),
        missing=missing_of(one.review, knowledge.ruleset),
        orders=tuple(order_words(order, case.now) for order in case.orders),
        lacks=tuple(dict.fromkeys(filter(None, lacks))),
        silent=silent_of(one.review),
        short=_short(due_of(with_told(case, lumens), knowledge.vehicles, failed_in(lumens))),
    )


def _short(due: Due) -> str:
    """ "2 lumens, 5 infusions", where there are fewer lumens."""
    if not due.is_short:
        return ""
    return f"{show.count(due.lumens, 'lumen')}, {show.count(due.infusions, 'infusion')}"


def headline(to_call: int, to_check: int) -> str:
    """How many beds to call about and how many to check."""
    if not to_call and not to_check:
        return "Nothing found that needs a call or a check."
    call = show.capital(show.count(to_call, "bed"))
    return f"{call} to call about, {to_check or 'none'} to check."


def results_up_to(beds: Iterable[Bedside], now: datetime) -> str:
    """When the newest result was taken: what the board cannot know comes after."""
    times = [
        one.taken_at
        for bed in beds
        for results in bed.review.case.patient.results.values()
        for one in results
        if one.taken_at is not None
    ]
    return show.clock(max(times), now) if times else "no results"
