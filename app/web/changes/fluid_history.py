"""All that a fluid's entry ever said here: from when, by a release or by whom, what differed."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Final

from fastapi import APIRouter, HTTPException, Request
from fastapi.responses import HTMLResponse

from app.catalogue.changes.change import Document, FluidEntry
from app.catalogue.changes.differences import Difference, differences
from app.review.knowledge import Past
from app.storage.database import reading
from app.web.changes.rows import ChangeRow, change_row
from app.web.changes.signed import here
from app.web.changes.words import moment_text, signed_text
from app.web.render import render

router: Final = APIRouter(include_in_schema=False)
NOT_FOUND: Final = 404


@dataclass(frozen=True, slots=True)
class Said:
    """What the entry said from a moment on. change: its number, 0 for a release."""

    since: str
    by: str
    why: str
    change: int
    differences: tuple[Difference, ...]
    is_first: bool


@dataclass(frozen=True, slots=True)
class HistoryPage:
    """One fluid's entries, the newest first, and what is drafted of it."""

    fluid_id: str
    name: str
    is_held: bool
    said: tuple[Said, ...]
    open: tuple[ChangeRow, ...]


@router.get("/catalogue/{fluid_id}/history")
def history(request: Request, fluid_id: str) -> HTMLResponse:
    """One fluid's history."""
    with reading(request.app.state.engine) as session:
        past, now = Past.of(session), here(session)
    view = history_page(fluid_id, past, now)
    if not view.said and not view.open:
        raise HTTPException(NOT_FOUND, f"The catalogue never had a fluid “{fluid_id}”.")
    return render(request, "changes/fluid_history.html", view)


def history_page(fluid_id: str, past: Past, now: datetime) -> HistoryPage:
    """The page at a moment."""
    said = tuple(_said(fluid_id, past, now))
    held = past.documents(now).get(fluid_id)
    subject = FluidEntry(fluid_id, None).subject
    return HistoryPage(
        fluid_id=fluid_id,
        name=str(held["name"]) if held else fluid_id,
        is_held=held is not None,
        said=tuple(reversed(said)),
        open=tuple(
            change_row(one, past, past.words, now)
            for one in past.history.about(subject)
            if past.history.state(one, now) in ("draft", "waiting")
        ),
    )


def own_entry(fluid_id: str, past: Past, now: datetime) -> Said | None:
    """The entry as this hospital approved it, where it is that one that counts."""
    filed = past.history.in_force(now).get(FluidEntry(fluid_id, None).subject)
    if filed is None or filed.counts_from is None:
        return None
    return _entry(fluid_id, past, filed.counts_from, now, ())


def _said(fluid_id: str, past: Past, now: datetime) -> Iterator[Said]:
    """Each moment from which the entry said something else, the oldest first."""
    before: Document | None = None
    for moment in sorted(_moments(fluid_id, past)):
        if moment > now:
            return
        document = past.documents(moment).get(fluid_id)
        apart = differences(before, document)
        if apart:
            yield _entry(fluid_id, past, moment, now, apart, is_first=before is None)
        before = document


def _moments(fluid_id: str, past: Past) -> set[datetime]:
    releases = {one.from_at for one in past.versions if one.fluid_id == fluid_id}
    about = past.history.about(FluidEntry(fluid_id, None).subject)
    return releases | {one.counts_from for one in about if one.counts_from is not None}


def _entry(  # noqa: PLR0913 - one row of the page
    fluid_id: str,
    past: Past,
    moment: datetime,
    now: datetime,
    apart: tuple[Difference, ...],
    *,
    is_first: bool = False,
) -> Said:
    filed = past.history.in_force(moment).get(FluidEntry(fluid_id, None).subject)
    since = moment_text(moment, now)
    if filed is None:
        told = [v for v in past.versions if v.fluid_id == fluid_id and v.from_at == moment]
        release = told[-1].release if told else ""
        return Said(since, f"Release {release}".strip(), "", 0, apart, is_first)
    approved = filed.decided("approved")
    by = f"Drafted by {signed_text(filed.change.drafted, now)}"
    if approved is not None:
        by += f"; approved by {signed_text(approved.signed, now)}"
    return Said(since, by, filed.change.reason, filed.change.number, apart, is_first)
