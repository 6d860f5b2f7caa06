"""Samples of past findings: drawn by chance, marked by two people who do not see each other's."""

from datetime import UTC, datetime
from typing import Annotated, Final
from zoneinfo import ZoneInfo

from fastapi import APIRouter, Form, HTTPException, Request, Response
from fastapi.responses import HTMLResponse, RedirectResponse
from sqlalchemy.orm import Session

from app.review.burden.draw import SIZES, as_item, drawn
from app.review.replay.tally import Tally
from app.storage.audit.trail import record
from app.storage.database import reading, transaction
from app.storage.past.past import read_past
from app.storage.patients import read_unit
from app.storage.replays import jobs
from app.storage.samples.samples import (
    VERDICTS,
    Drawn,
    Item,
    Mark,
    MarkedAlready,
    Sample,
    add_mark,
    add_sample,
    read_item,
    read_items,
    read_sample,
)
from app.web.at_hand import knowledge
from app.web.burden.page import ADDRESS, CONFLICT, burden_page
from app.web.burden.sample_view import Sent, item_page, sample_page
from app.web.changes.signed import here
from app.web.render import SEE_OTHER, render
from app.web.replay.past import in_zone
from app.web.replay.run import NOT_FOUND, numbered
from app.web.replay.situation import Situation, situation_of
from app.web.who import signed_in

router: Final = APIRouter(include_in_schema=False)
UNREADABLE: Final = 422
NOTHING_TO_DRAW: Final = "There is nothing to draw from: count first, or choose another rule."
LONGEST_REASON: Final = 500
Typed = Annotated[str, Form()]


@router.post("/burden/samples")
def draw(request: Request, size: Typed = "10", rule: Typed = "") -> Response:
    """Draw a sample from the newest count."""
    wanted = int(size) if size in map(str, SIZES) else SIZES[0]
    with transaction(request.app.state.engine) as session:
        sample_id = _draw(request, session, wanted, rule)
    if sample_id:
        return RedirectResponse(f"{ADDRESS}/samples/{sample_id}", SEE_OTHER)
    view = burden_page(request, NOTHING_TO_DRAW)
    return render(request, "burden/burden.html", view, status=CONFLICT)


@router.get("/burden/samples/{sample_id}")
def show_sample(request: Request, sample_id: int) -> HTMLResponse:
    """One sample: what is to be marked by whoever asks, and what both have marked."""
    with reading(request.app.state.engine) as session:
        sample, now = _sample(session, sample_id), here(session)
    view = sample_page(sample, signed_in(request).account_id, now)
    return render(request, "burden/sample.html", view)


@router.get("/burden/samples/{sample_id}/{number}")
def show_item(request: Request, sample_id: int, number: int) -> HTMLResponse:
    """One finding to be marked."""
    return _item(request, (sample_id, number), Sent())


@router.post("/burden/samples/{sample_id}/{number}")
def mark_item(
    request: Request, sample_id: int, number: int, verdict: Typed = "", reason: Typed = ""
) -> Response:
    """Mark one finding."""
    chosen = next((one for one in VERDICTS if one == verdict), None)
    sent = Sent(verdict, reason.strip()[:LONGEST_REASON])
    if chosen is None:
        return _item(request, (sample_id, number), sent.refused("Choose one of the three."))
    if chosen != VERDICTS[0] and not sent.reason:
        return _item(request, (sample_id, number), sent.refused("Say why, in a few words."))
    person = signed_in(request)
    mark = Mark(chosen, sent.reason, datetime.now(UTC), person.name, person.account_id)
    try:
        with transaction(request.app.state.engine) as session:
            sample = _sample(session, sample_id)
            add_mark(session, _numbered(session, sample_id, number).id, mark)
            # That it was marked, and not how: the other may read the trail first.
            record(
                session, at=mark.at, who=mark.by, account_id=mark.account_id,
                act="finding marked", subject=f"sample:{sample_id}", after={"finding": number},
            )  # fmt: skip
    except MarkedAlready as already:
        return _item(request, (sample_id, number), sent.refused(str(already)), CONFLICT)
    following = _next(sample, person.account_id, number)
    return RedirectResponse(f"{ADDRESS}/samples/{sample_id}{following}", SEE_OTHER)


def _draw(request: Request, session: Session, size: int, rule: str) -> int:
    """Keep a sample; 0 when there is nothing to draw from."""
    person, now = signed_in(request), datetime.now(UTC)
    run = jobs.newest_run(session, jobs.OF_NO_CHANGE, now, finished=True)
    document = jobs.read_result(session, run.id) if run else None
    if run is None or document is None:
        return 0
    known, items = knowledge(request), []
    taken = {(one.past_id, one.rule_id, one.order_ids) for one in read_items(session)}
    for row in drawn(Tally.from_document(document), size, rule, taken):
        past = read_past(session, row.past_id)
        item = as_item(row, in_zone(past, _zone(session)), known) if past else None
        if item is not None:
            items.append(item)
    if not items:
        return 0
    kept = Drawn(run.id, run.seed, rule, now, person.name, person.account_id, tuple(items))
    sample_id = add_sample(session, kept)
    record(
        session, at=now, who=person.name, account_id=person.account_id, act="sample drawn",
        subject=f"sample:{sample_id}", after={"findings": len(items), "rule": rule},
    )  # fmt: skip
    return sample_id


def _item(request: Request, at: tuple[int, int], sent: Sent, status: int = 200) -> HTMLResponse:
    sample_id, number = at
    with reading(request.app.state.engine) as session:
        sample = _sample(session, sample_id)
        item = _numbered(session, sample_id, number)
        situation = _situation(request, session, item)
    view = item_page(sample, item, situation, signed_in(request).account_id, sent)
    status = UNREADABLE if sent.fault and status != CONFLICT else status
    return render(request, "burden/item.html", view, status=status)


def _situation(request: Request, session: Session, item: Item) -> Situation | None:
    """The past order; None when retention has taken it away."""
    past = read_past(session, item.past_id)
    return None if past is None else situation_of(in_zone(past, _zone(session)), knowledge(request))


def _next(sample: Sample, account_id: str, number: int) -> str:
    """The next finding this person may mark, else the sample."""
    others = [one for one in sample.items if one.number != number]
    later = [one for one in others if one.number > number] + others
    to_do = (one.number for one in later if one.may_be_marked_by(account_id))
    following = next(to_do, None)
    return "" if following is None else f"/{following}"


def _zone(session: Session) -> ZoneInfo:
    unit = read_unit(session)
    return ZoneInfo(unit.zone if unit else "UTC")


def _sample(session: Session, sample_id: int) -> Sample:
    sample = read_sample(session, numbered(sample_id))
    if sample is None:
        raise HTTPException(NOT_FOUND, f"There is no sample {sample_id}.")
    return sample


def _numbered(session: Session, sample_id: int, number: int) -> Item:
    item = read_item(session, sample_id, numbered(number))
    if item is None:
        raise HTTPException(NOT_FOUND, f"Sample {sample_id} has no finding {number}.")
    return item
