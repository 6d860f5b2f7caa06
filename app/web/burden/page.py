"""The page of burden and precision: what is said, counted; and what people make of samples."""

import secrets
from datetime import UTC, datetime, timedelta
from typing import Final

from fastapi import APIRouter, Request, Response
from fastapi.responses import HTMLResponse, RedirectResponse
from sqlalchemy.orm import Session

from app.review.burden.draw import rules_in
from app.review.replay.asked import in_force, terms_of_count
from app.review.replay.running import Plan
from app.review.replay.tally import Tally
from app.review.workflow import now_in
from app.security.acts import Act
from app.storage.audit.trail import record
from app.storage.database import reading, transaction
from app.storage.past.past import held_past
from app.storage.patients import read_unit
from app.storage.replays import jobs
from app.storage.samples.samples import read_items, read_samples
from app.web.at_hand import knowledge
from app.web.burden.export import figures_csv, marks_csv
from app.web.burden.view import (
    BurdenPage,
    Counted,
    agreement_of,
    day_rows,
    draws_of,
    lead_of,
    precision_rows,
    rule_rows,
    sample_row,
    setting_rows,
    shift_rows,
    verdict_of,
)
from app.web.changes.signed import here
from app.web.render import SEE_OTHER, pages, render
from app.web.replay.page import held_words
from app.web.replay.run import NO_PAST, SEED_BYTES, run_view, start_run, where_of
from app.web.replay.view import pace_of
from app.web.show import clock
from app.web.who import person_of, signed_in

router: Final = APIRouter(include_in_schema=False)
ADDRESS: Final = "/burden"
DAYS: Final = timedelta(days=30)
CONFLICT: Final = 409
RUNS_ALREADY: Final = "It is being counted already."


@router.get("/burden")
def burden(request: Request) -> HTMLResponse:
    """The page."""
    return render(request, "burden/burden.html", burden_page(request))


@router.get("/burden/progress")
def progress(request: Request, step: str = "") -> HTMLResponse:
    """How far a count is, asked every second by the page itself; all of it once it is over."""
    view = burden_page(request)
    under_way = view.run is not None and view.run.is_under_way
    name = "replay/_progress.html" if under_way else "burden/_counted.html"
    html = pages.get_template(name).render(view=view, address=ADDRESS, last=step)
    headers = {"Cache-Control": "no-store"}
    if not under_way:
        headers |= {"HX-Retarget": "#counted", "HX-Reswap": "outerHTML"}
    return HTMLResponse(html, headers=headers)


@router.post("/burden")
def count(request: Request) -> Response:
    """Count what is said with what is in force now, over the last thirty days."""
    fault = _start(request)
    if not fault:
        return RedirectResponse(ADDRESS, SEE_OTHER)
    return render(request, "burden/burden.html", burden_page(request, fault), status=CONFLICT)


@router.post("/burden/stop")
def stop(request: Request) -> Response:
    """Stop a count that is under way."""
    with transaction(request.app.state.engine) as session:
        run = jobs.newest_run(session, jobs.OF_NO_CHANGE, datetime.now(UTC))
        if run is not None and run.is_under_way:
            jobs.ask_to_stop(session, run.id)
    return RedirectResponse(ADDRESS, SEE_OTHER)


@router.get("/burden/figures.csv")
def figures(request: Request) -> Response:
    """Every figure of the newest count."""
    with reading(request.app.state.engine) as session:
        run = jobs.newest_run(session, jobs.OF_NO_CHANGE, datetime.now(UTC), finished=True)
        document = jobs.read_result(session, run.id) if run else None
    tally = Tally.from_document(document) if document else Tally()
    return _file(figures_csv(tally.before), "burden.csv")


@router.get("/burden/marks.csv")
def marks(request: Request) -> Response:
    """What two people said of each finding that both have marked."""
    with reading(request.app.state.engine) as session:
        items = read_items(session)
    return _file(marks_csv((item.sample_id, item) for item in items), "marks.csv")


def burden_page(request: Request, fault: str = "") -> BurdenPage:
    """The page as it stands."""
    person = person_of(request)
    with reading(request.app.state.engine) as session:
        now, held, items = here(session), held_past(session, _since(session)), read_items(session)
        samples = read_samples(session)
        return BurdenPage(
            held=held_words(held),
            has_past=bool(held.requests),
            run=run_view(jobs.newest_run(session, jobs.OF_NO_CHANGE, now), now),
            counted=_counted(session, now, knowledge(request).version),
            precision=precision_rows(items, {one.id for one, *_ in samples if not one.rule_id}),
            agreement=agreement_of(items),
            samples=tuple(
                sample_row(one, number, marked, clock(one.drawn_at.astimezone(now.tzinfo), now))
                for one, number, marked in samples
            ),
            may_mark=person is not None and person.may(Act.MARK),
            fault=fault,
        )


def _counted(session: Session, now: datetime, version: str) -> Counted | None:
    run = jobs.newest_run(session, jobs.OF_NO_CHANGE, now, finished=True)
    document = jobs.read_result(session, run.id) if run else None
    if run is None or document is None:
        return None
    tally = Tally.from_document(document)
    verdict, is_over = verdict_of(tally.before)
    at = clock(run.asked_at.astimezone(now.tzinfo), now)
    return Counted(
        lead=lead_of(tally.before),
        verdict=verdict,
        is_over=is_over,
        rules=rule_rows(tally.before),
        settings=setting_rows(tally.before),
        shifts=shift_rows(tally.before),
        days=day_rows(tally.before),
        foot=f"Counted {at}, asked for by {run.by}. {pace_of(run.numbers)}",
        is_stale=run.versions["before"]["knowledge"] != version,
        rules_to_draw=draws_of(rules_in(tally.sample)),
    )


def _since(session: Session) -> datetime:
    """Thirty days before the unit's own moment."""
    return now_in(read_unit(session)) - DAYS


def _start(request: Request) -> str:
    """Ask for a count and start it; why not, where it cannot be."""
    state, person, now = request.app.state, signed_in(request), datetime.now(UTC)
    seed = secrets.token_hex(SEED_BYTES)
    with transaction(state.engine) as session:
        newest = jobs.newest_run(session, jobs.OF_NO_CHANGE, now)
        if newest is not None and newest.is_under_way:
            return RUNS_ALREADY
        since = _since(session)
        if not held_past(session, since).requests:
            return NO_PAST
        two, terms = in_force(session, now), terms_of_count(session, seed)
        run_id = jobs.ask(session, jobs.Asked(now, person.name, person.account_id, seed))
        record(
            session, at=now, who=person.name, account_id=person.account_id,
            act="count asked for", subject=f"replay:{run_id}",
        )  # fmt: skip
    where, cap = where_of(state.settings), state.settings.burden_cap
    plan = Plan(state.engine, run_id, two, terms, cap, where, since)
    start_run(plan, lambda: datetime.now(UTC))
    return ""


def _file(text: str, name: str) -> Response:
    headers = {
        "Content-Disposition": f'attachment; filename="{name}"',
        "Cache-Control": "no-store",
    }
    return Response(text, media_type="text/csv; charset=utf-8", headers=headers)
