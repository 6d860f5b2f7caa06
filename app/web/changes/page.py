"""Pages of changes: all of them, one of them, and what a second person decides of it."""

from collections.abc import Callable
from datetime import UTC, datetime
from typing import Annotated, Final

from fastapi import APIRouter, Form, HTTPException, Request, Response
from fastapi.responses import HTMLResponse, RedirectResponse
from sqlalchemy.orm import Session

from app.catalogue.changes.allowed import NotAllowed
from app.catalogue.changes.change import Signature
from app.catalogue.changes.history import Filed
from app.catalogue.entry import EntryError
from app.review.changes.decide import Reading, approve, send_back, withdraw
from app.review.changes.examples import tried_on
from app.review.knowledge import Knowledge, Past
from app.security.acts import Act
from app.storage.changes.records import DecidedMeanwhile
from app.storage.database import reading, transaction
from app.storage.replays.jobs import newest_run
from app.storage.replays.results import newest_replay
from app.web.at_hand import knowledge
from app.web.changes.one import ChangePage, Looking, Sent, change_page
from app.web.changes.rows import changes_page
from app.web.changes.signed import here, signature_of
from app.web.render import SEE_OTHER, render
from app.web.rules import all_examples
from app.web.who import person_of, signed_in

router: Final = APIRouter(include_in_schema=False)
NOT_FOUND: Final = 404
CONFLICT: Final = 409
UNREADABLE: Final = 422
MOST_NUMBER: Final = 2**31
NEEDS: Final = {
    "approve": Act.APPROVE, "send-back": Act.APPROVE, "withdraw": Act.DRAFT, "draft": Act.DRAFT,
}  # fmt: skip
Decide = Callable[[Session, Signature], Filed]
Typed = Annotated[str, Form()]


@router.get("/changes")
def list_changes(request: Request, state: str = "", kind: str = "") -> HTMLResponse:
    """Every change, or those that stand in a way or are of a kind."""
    with reading(request.app.state.engine) as session:
        now, past = here(session), Past.of(session)
    view = changes_page(past, knowledge(request), now, state=state, kind=kind)
    return render(request, "changes/list.html", view, part="changes/_changes.html")


@router.get("/changes/{number}")
def show_change(request: Request, number: int) -> HTMLResponse:
    """One change."""
    with reading(request.app.state.engine) as session:
        view = _view(request, session, number, Sent())
    return render(request, "changes/change.html", view)


@router.get("/changes/{number}/approve")
@router.get("/changes/{number}/send-back")
@router.get("/changes/{number}/withdraw")
def back_to_change(number: int) -> Response:
    """Back to the change: where looking again leads from a form that was not accepted."""
    return RedirectResponse(f"/changes/{number}", SEE_OTHER)


@router.post("/changes/{number}/approve")
def approve_change(request: Request, number: int, reason: Typed = "", seen: Typed = "") -> Response:
    """Approve a draft of somebody else's."""

    def decide(session: Session, by: Signature) -> Filed:
        silences = _silences(_exists(session, number), number, knowledge(request))
        replay = newest_replay(session, number)
        return approve(session, number, Reading(seen, reason, replay, silences), by)

    return _decided(request, number, decide, ("approve", reason))


@router.post("/changes/{number}/send-back")
def send_change_back(request: Request, number: int, reason: Typed = "") -> Response:
    """Send a draft back to who wrote it."""

    def decide(session: Session, by: Signature) -> Filed:
        return send_back(session, number, reason, by)

    return _decided(request, number, decide, ("send-back", reason))


@router.post("/changes/{number}/withdraw")
def withdraw_change(request: Request, number: int, reason: Typed = "") -> Response:
    """Withdraw one's own draft, or a change whose moment has not come."""

    def decide(session: Session, by: Signature) -> Filed:
        return withdraw(session, number, reason, by)

    return _decided(request, number, decide, ("withdraw", reason))


def _decided(request: Request, number: int, decide: Decide, typed: tuple[str, str]) -> Response:
    """Decide, and show the change; what cannot be decided is told with what was written."""
    person = signed_in(request)
    try:
        with transaction(request.app.state.engine) as session:
            _exists(session, number)
            decide(session, signature_of(person, here(session)))
    except EntryError as fault:
        text = f"Needed: {fault.accepted}." if not fault.value else f"Accepted: {fault.accepted}."
        return _again(request, number, Sent(*typed, text), UNREADABLE)
    except (NotAllowed, DecidedMeanwhile) as why:
        return _again(request, number, Sent(*typed, above=str(why)), CONFLICT)
    return RedirectResponse(f"/changes/{number}", SEE_OTHER)


def _again(request: Request, number: int, sent: Sent, status: int) -> HTMLResponse:
    with reading(request.app.state.engine) as session:
        view = _view(request, session, number, sent)
    return render(request, "changes/change.html", view, status=status)


def _silences(past: Past, number: int, known: Knowledge) -> bool:
    filed = past.history.get(number)
    assert filed is not None
    return tried_on(filed.change, all_examples(), known).critical_lost > 0


def _exists(session: Session, number: int) -> Past:
    past = Past.of(session)
    if not 0 < number < MOST_NUMBER or past.history.get(number) is None:
        raise HTTPException(NOT_FOUND, f"There is no change {number}.")
    return past


def _view(request: Request, session: Session, number: int, sent: Sent) -> ChangePage:
    past, now = _exists(session, number), here(session)
    filed = past.history.get(number)
    assert filed is not None
    run = newest_run(session, number, datetime.now(UTC))
    looking = Looking(
        past=past,
        knowledge=knowledge(request),
        now=now,
        by=_by(request, now),
        replay=newest_replay(session, number),
        may=_may(request),
        examples=all_examples(),
        runs_now=run is not None and run.is_under_way,
    )
    return change_page(filed, looking, sent)


def _by(request: Request, now: datetime) -> Signature | None:
    person = person_of(request)
    return None if person is None else signature_of(person, now)


def _may(request: Request) -> frozenset[str]:
    """What the person's roles let them do with a change."""
    person = person_of(request)
    return frozenset(a for a, need in NEEDS.items() if person is not None and person.may(need))
