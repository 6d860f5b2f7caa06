"""Drafting a change of a limit, or of whether a rule runs, from the rule's own page."""

from typing import Annotated, Final

from fastapi import APIRouter, Form, HTTPException, Request, Response
from fastapi.responses import HTMLResponse, RedirectResponse
from pydantic import BaseModel
from sqlalchemy.orm import Session

from app.catalogue.changes.change import Signature
from app.catalogue.entry import EntryError
from app.cautions.registry import RULE_BY_ID
from app.cautions.switches import NEVER_OFF
from app.review.changes.draft import Asked, draft_limit, draft_switch
from app.review.changes.meanwhile import ChangedMeanwhile, Meanwhile, limit_named
from app.review.knowledge import Past
from app.storage.database import reading, transaction
from app.web.changes.draft_view import Subject, draft_page, from_sent_back
from app.web.changes.signed import here, signature_of
from app.web.render import SEE_OTHER, render
from app.web.who import signed_in

router: Final = APIRouter(include_in_schema=False)
NOT_FOUND: Final = 404
CONFLICT: Final = 409
UNREADABLE: Final = 422
TEMPLATE: Final = "changes/draft.html"
LONGEST_NUMBER: Final = 9


class SentDraft(BaseModel):
    """What is sent to draft a change. limit: of which; turn: on or off, where it is the rule.

    shipped: anything, for the value as shipped.
    """

    limit: str = ""
    turn: str = ""
    value: str = ""
    shipped: str = ""
    reason: str = ""
    effective_from: str = ""
    review_on: str = ""
    based_on: str = ""
    revises: str = ""


@router.get("/rules/{rule_id}/change")
def begin(
    request: Request, rule_id: str, limit: str = "", turn: str = "", revises: int = 0
) -> HTMLResponse:
    """An empty form, or one filled with what was sent back."""
    subject = _subject(rule_id, limit, turn)
    with reading(request.app.state.engine) as session:
        now, past = here(session), Past.of(session)
    former = past.history.get(revises)
    mine = former is not None and former.change.subject == subject.content.subject
    typed = from_sent_back(former, now) if former is not None and mine else None
    return render(request, TEMPLATE, draft_page(subject, past, now, typed))


@router.post("/rules/{rule_id}/change")
def send(request: Request, rule_id: str, sent: Annotated[SentDraft, Form()]) -> Response:
    """Keep a draft; one that is not accepted comes back with all that was typed."""
    person, subject = signed_in(request), _subject(rule_id, sent.limit, sent.turn)
    refused: EntryError | Meanwhile
    try:
        with transaction(request.app.state.engine) as session:
            number = _draft(session, subject, sent, signature_of(person, here(session)))
        return RedirectResponse(f"/changes/{number}", SEE_OTHER)
    except EntryError as fault:
        refused, status = fault, UNREADABLE
    except ChangedMeanwhile as late:
        refused, status = late.meanwhile, CONFLICT
    with reading(request.app.state.engine) as session:
        now, past = here(session), Past.of(session)
    typed = {**sent.model_dump(), "revises": str(_number(sent.revises))}
    view = draft_page(subject, past, now, typed, refused)
    return render(request, TEMPLATE, view, status=status)


def _draft(session: Session, subject: Subject, sent: SentDraft, by: Signature) -> int:
    asked = Asked(
        sent.reason, sent.effective_from, sent.review_on, sent.based_on, _number(sent.revises)
    )
    if subject.limit is None:
        return draft_switch(session, subject.rule.id, subject.turn == "on", asked, by)
    if not (sent.value.strip() or sent.shipped):
        raise EntryError("value", "", f"a number, in {subject.limit.unit}")
    written = "" if sent.shipped else sent.value
    return draft_limit(session, (subject.rule.id, subject.limit.name), written, asked, by)


def _number(written: str) -> int:
    """The number of a draft; what is none, is none."""
    is_number = written.isascii() and written.isdigit() and len(written) <= LONGEST_NUMBER
    return int(written) if is_number else 0


def _subject(rule_id: str, limit: str, turn: str) -> Subject:
    """What is to be changed. Raises 404 for a rule or limit that is not there."""
    rule, named = RULE_BY_ID.get(rule_id), limit_named(rule_id, limit)
    if rule is None:
        raise HTTPException(NOT_FOUND, f"There is no rule “{rule_id}”.")
    if limit and named is None:
        raise HTTPException(NOT_FOUND, f"The rule “{rule_id}” has no limit “{limit}”.")
    if not limit and (rule_id in NEVER_OFF or turn not in ("on", "off")):
        text = "Say which limit is to be changed, or that the rule is switched off or on."
        if rule_id in NEVER_OFF:
            text = "This rule says what the data itself lacks. It is never switched off."
        raise HTTPException(NOT_FOUND, text)
    return Subject(rule, named, "" if limit else turn)
