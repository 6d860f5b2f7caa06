"""The page on which a change is run on past orders, and read what came out."""

import secrets
from datetime import UTC, datetime
from typing import Final

from fastapi import APIRouter, HTTPException, Request, Response
from fastapi.responses import HTMLResponse, RedirectResponse
from sqlalchemy.orm import Session

from app.catalogue.changes.change import Change
from app.catalogue.entry import EntryError
from app.review.replay.asked import change_of, terms_of_replay, with_change
from app.review.replay.running import Plan
from app.review.replay.tally import Tally
from app.storage.audit.trail import record
from app.storage.database import reading, transaction
from app.storage.past.past import Held, held_past
from app.storage.replays import jobs
from app.storage.replays.results import newest_replay
from app.web.at_hand import knowledge
from app.web.changes.signed import here
from app.web.changes.words import title_of
from app.web.render import SEE_OTHER, pages, render
from app.web.replay.run import (
    NO_PAST,
    NOT_FOUND,
    SEED_BYTES,
    numbered,
    run_view,
    start_run,
    where_of,
)
from app.web.replay.view import Kept, Outcome, ReplayPage, outcome_of
from app.web.show import clock, day
from app.web.who import signed_in

router: Final = APIRouter(include_in_schema=False)
CONFLICT: Final = 409
UNREADABLE: Final = 422
RUNS_ALREADY: Final = "It is being run already."


@router.get("/changes/{number}/replay")
def replay(request: Request, number: int) -> HTMLResponse:
    """The page of one change's replay."""
    return render(request, "replay/replay.html", _view(request, number))


@router.get("/changes/{number}/replay/progress")
def progress(request: Request, number: int, step: str = "") -> HTMLResponse:
    """How far it is, asked every second by the page itself; the whole result once it is over.

    step: what a screen reader was told last.
    """
    view = _view(request, number)
    run = view.run
    under_way = run is not None and run.is_under_way
    name = "replay/_progress.html" if under_way else "replay/_replay.html"
    html = pages.get_template(name).render(view=view, address=_address(number), last=step)
    headers = {"Cache-Control": "no-store"}
    if not under_way:
        headers |= {"HX-Retarget": "#replay", "HX-Reswap": "outerHTML"}
    return HTMLResponse(html, headers=headers)


@router.post("/changes/{number}/replay")
def run_replay(request: Request, number: int) -> Response:
    """Start it."""
    fault = _start(request, number)
    if fault is None:
        return RedirectResponse(_address(number), SEE_OTHER)
    text, status = fault
    return render(request, "replay/replay.html", _view(request, number, text), status=status)


@router.post("/changes/{number}/replay/stop")
def stop_replay(request: Request, number: int) -> Response:
    """Stop what is under way."""
    with transaction(request.app.state.engine) as session:
        _change(session, number)
        run = jobs.newest_run(session, number, datetime.now(UTC))
        if run is not None and run.is_under_way:
            jobs.ask_to_stop(session, run.id)
    return RedirectResponse(_address(number), SEE_OTHER)


def _start(request: Request, number: int) -> tuple[str, int] | None:
    """Ask for a run and start it; why not, with a status, where it cannot be."""
    state, person, now = request.app.state, signed_in(request), datetime.now(UTC)
    seed = secrets.token_hex(SEED_BYTES)
    with transaction(state.engine) as session:
        change = _change(session, number)
        newest = jobs.newest_run(session, number, now)
        if newest is not None and newest.is_under_way:
            return RUNS_ALREADY, CONFLICT
        if not held_past(session).requests:
            return NO_PAST, CONFLICT
        try:
            two = with_change(session, change, now)
        except EntryError as fault:
            return f"The drafted entry cannot be read: {fault}", UNREADABLE
        terms = terms_of_replay(session, seed)
        asked = jobs.Asked(now, person.name, person.account_id, seed, number)
        run_id = jobs.ask(session, asked)
        record(
            session, at=now, who=person.name, account_id=person.account_id,
            act="replay asked for", subject=f"replay:{run_id}", after={"change": number},
        )  # fmt: skip
    settings = state.settings
    plan = Plan(state.engine, run_id, two, terms, settings.burden_cap, where_of(settings))
    start_run(plan, lambda: datetime.now(UTC))
    return None


def _view(request: Request, number: int, fault: str = "") -> ReplayPage:
    with reading(request.app.state.engine) as session:
        change = _change(session, number)
        now = here(session)
        held = held_past(session)
        outcome, at = _outcome(request, session, number, now)
        return ReplayPage(
            number=number,
            title=title_of(change.content, knowledge(request).catalogue),
            held=held_words(held),
            run=run_view(jobs.newest_run(session, number, now), now),
            outcome=outcome,
            outcome_at=at,
            fault=fault,
            has_past=bool(held.requests),
        )


def _outcome(
    request: Request, session: Session, number: int, now: datetime
) -> tuple[Outcome | None, str]:
    result = newest_replay(session, number)
    if result is None:
        return None, ""
    document, run = jobs.read_result(session, result.id), jobs.read_run(session, result.id, now)
    assert document is not None
    assert run is not None
    tally = Tally.from_document(document)
    kept = Kept(result, tally, run.numbers, run.versions, knowledge(request).version)
    at = clock(result.finished_at.astimezone(now.tzinfo), now)
    return outcome_of(kept), f"{at}, asked for by {result.by}"


def held_words(held: Held) -> str:
    """What past orders there are, in words."""
    if held.first is None or held.last is None:
        return NO_PAST
    days = f"{day(held.first)} {held.first:%Y} to {day(held.last)} {held.last:%Y}"
    return f"{held.requests:,} past requests with {held.orders:,} orders, {days}"


def _change(session: Session, number: int) -> Change:
    change = change_of(session, numbered(number))
    if change is None:
        raise HTTPException(NOT_FOUND, f"There is no change {number}.")
    return change


def _address(number: int) -> str:
    return f"/changes/{number}/replay"
