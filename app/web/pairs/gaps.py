"""The pairs that really run on this unit and of which nobody has told us, and the same as CSV."""

import csv
import io
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from fastapi import APIRouter, Request, Response
from fastapi.responses import HTMLResponse
from sqlalchemy.orm import Session

from app.catalogue.catalogue import Catalogue
from app.cautions.phrases import opening
from app.review.knowledge import Knowledge
from app.review.pairs.gaps import Gap, gaps_of
from app.review.pairs.words import word_of
from app.review.workflow import now_in, pair_book, review_unit
from app.storage.database import reading
from app.storage.patients import read_names, read_unit
from app.web.pairs.asked import address
from app.web.render import render
from app.web.show import clock_and_day, count, number

router: Final = APIRouter(include_in_schema=False)
COLUMNS: Final = ("one", "other", "hours_together", "hours_on_one_lumen", "patients", "note_lapsed")
FILE: Final = "pairs-without-data.csv"
DIGITS: Final = 2


@dataclass(frozen=True, slots=True)
class GapRow:
    """One pair. href: the page about the two; beds: who, as bed and the patient's page."""

    one: str
    other: str
    href: str
    hours: str
    one_lumen: str
    beds: tuple[tuple[str, str], ...]
    lapsed: bool


@dataclass(frozen=True, slots=True)
class GapsPage:
    """The list. since: the moment from which the 24 hours are counted."""

    rows: tuple[GapRow, ...]
    since: str
    summary: str


@router.get("/co-infusion/gaps")
def gaps(request: Request) -> HTMLResponse:
    """The pairs without data that run here, most hours together first."""
    catalogue: Catalogue = request.app.state.knowledge.catalogue
    with reading(request.app.state.engine) as session:
        found = _found(request, session)
        unit = read_unit(session)
        patients = {bed: id_ for id_, bed, _ in read_names(session, unit.id)} if unit else {}
        now = now_in(unit)
    rows = tuple(_row(gap, catalogue, patients) for gap in found)
    hours = number(sum(gap.hours for gap in found))
    summary = f"{count(len(rows), 'pair')}, {hours} h together in all" if rows else ""
    return render(request, "pairs/gaps.html", GapsPage(rows, clock_and_day(now), summary))


@router.get("/co-infusion/gaps.csv")
def gaps_as_file(request: Request) -> Response:
    """The same list as CSV, without a word of any patient."""
    with reading(request.app.state.engine) as session:
        found = _found(request, session)
    return Response(
        as_csv(found),
        media_type="text/csv; charset=utf-8",
        headers={
            "Content-Disposition": f'attachment; filename="{FILE}"',
            "Cache-Control": "no-store",
        },
    )


def _found(request: Request, session: Session) -> tuple[Gap, ...]:
    state = request.app.state
    knowledge: Knowledge = state.knowledge
    beds = review_unit(session, knowledge, state.kept_beds)
    cases = [(bed.bed, bed.review.case) for bed in beds]
    return gaps_of(cases, pair_book(session, knowledge), knowledge.vehicles)


def _row(gap: Gap, catalogue: Catalogue, patients: dict[str, str]) -> GapRow:
    return GapRow(
        one=opening(word_of(gap.one, catalogue)),
        other=word_of(gap.other, catalogue),
        href=address((gap.one, gap.other)),
        hours=number(gap.hours, DIGITS),
        one_lumen=number(gap.hours_on_one_lumen, DIGITS),
        beds=tuple((bed, f"/patients/{patients[bed]}") for bed in gap.beds),
        lapsed=gap.lapsed,
    )


def as_csv(found: Iterable[Gap]) -> str:
    """The list with a header row: keys, hours and counts."""
    text = io.StringIO(newline="")
    writer = csv.writer(text)
    writer.writerow(COLUMNS)
    for gap in found:
        hours = round(gap.hours, DIGITS), round(gap.hours_on_one_lumen, DIGITS)
        writer.writerow((gap.one, gap.other, *hours, len(gap.beds), "yes" if gap.lapsed else "no"))
    return text.getvalue()
