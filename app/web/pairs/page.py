"""The page on pairs, and the notes that named people sign there."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Annotated, Final

from fastapi import APIRouter, Form, HTTPException, Query, Request, Response
from fastapi.responses import HTMLResponse, RedirectResponse
from pydantic import BaseModel
from sqlalchemy.orm import Session

from app.catalogue.entry import EntryError
from app.catalogue.pairs.local_note import (
    LONGEST_NAME,
    LocalNote,
    note_from,
    withdrawal_from,
)
from app.catalogue.pairs.substance import Substance
from app.intake.fluids import name_book
from app.review.knowledge import Knowledge
from app.review.pairs.things import read_thing
from app.review.pairs.words import MARKS
from app.review.workflow import now_in, pair_book
from app.security.acts import Act
from app.storage.audit.acts import SIGNED_NOTE, WITHDREW_NOTE
from app.storage.database import reading, transaction
from app.storage.pairs.notes import read_note, sign_note, withdraw_note
from app.storage.patients import read_unit
from app.web.account.keeping import noted
from app.web.account.menu import roles_text
from app.web.pairs.asked import PAGE, address, words_asked
from app.web.pairs.view import NoteForm, note_fault, pairs_page
from app.web.render import SEE_OTHER, render
from app.web.who import person_of, signed_in

router: Final = APIRouter(include_in_schema=False)
NOT_FOUND: Final = 404
CONFLICT: Final = 409
UNREADABLE: Final = 422
TEMPLATE: Final = "pairs/page.html"
PART: Final = "pairs/_pairs.html"
SIGN: Final = "sign"


@router.get("/co-infusion")
def pairs(request: Request, thing: Annotated[list[str] | None, Query()] = None) -> HTMLResponse:
    """What may share a lumen: the pairs of the things an address names."""
    knowledge: Knowledge = request.app.state.knowledge
    with reading(request.app.state.engine) as session:
        book = pair_book(session, knowledge)
    view = pairs_page(words_asked(thing or ()), knowledge, book, NoteForm(signer=_signer(request)))
    return render(request, TEMPLATE, view, part=PART)


class SignForm(BaseModel):
    """What is sent to sign a note. a, b: the keys of the two things."""

    a: str = ""
    b: str = ""
    text: str = ""
    conditions: str = ""
    review_on: str = ""


@router.post("/co-infusion/notes")
def sign(request: Request, sent: Annotated[SignForm, Form()]) -> Response:
    """Add a signed note that two things may run together here, and go back to the two."""
    typed = sent.model_dump(exclude={"a", "b"}) | _signed_by(request)
    pair = (sent.a, sent.b)
    with transaction(request.app.state.engine) as session:
        _refuse_what_is_settled(request, session, pair)
        try:
            note = note_from(typed, pair, now_in(read_unit(session)))
        except EntryError as fault:
            return _again(
                request, session, pair, note_fault(f"{SIGN}-{sent.a}-{sent.b}", typed, fault)
            )
        number = sign_note(session, note)
        told = {"a": note.a, "b": note.b, "conditions": note.conditions}
        after = told | {"review on": note.review_on.isoformat()}
        noted(request, session, SIGNED_NOTE, f"pair-note:{number}", after=after)
    return RedirectResponse(address(pair), SEE_OTHER)


@router.post("/co-infusion/notes/{number}/withdraw")
def withdraw(request: Request, number: int, reason: Annotated[str, Form()] = "") -> Response:
    """Take a note back: it stays, with who took it back and why."""
    typed = {"reason": reason} | _signed_by(request)
    with transaction(request.app.state.engine) as session:
        note = _note(session, number)
        try:
            taken = withdrawal_from(typed, now_in(read_unit(session)))
        except EntryError as fault:
            return _again(request, session, (note.a, note.b), note_fault(str(number), typed, fault))
        if withdraw_note(session, number, taken):
            after = {"reason": taken.reason}
            noted(request, session, WITHDREW_NOTE, f"pair-note:{number}", after=after)
    return RedirectResponse(address((note.a, note.b)), SEE_OTHER)


@router.get("/co-infusion/notes")
def notes_of_nothing() -> Response:
    """Back to the page: where looking again leads from a form that was not accepted."""
    return RedirectResponse(PAGE, SEE_OTHER)


@router.get("/co-infusion/notes/{number}/withdraw")
def note_to_withdraw(request: Request, number: int) -> Response:
    """Back to the two: where looking again leads from a form that was not accepted."""
    with reading(request.app.state.engine) as session:
        note = _note(session, number)
    return RedirectResponse(address((note.a, note.b)), SEE_OTHER)


def _note(session: Session, number: int) -> LocalNote:
    note = read_note(session, number)
    if note is None:
        raise HTTPException(NOT_FOUND, f"There is no local note {number}.")
    return note


def _again(
    request: Request, session: Session, words: Sequence[str], form: NoteForm
) -> HTMLResponse:
    knowledge: Knowledge = request.app.state.knowledge
    form = replace(form, signer=_signer(request))
    view = pairs_page(words, knowledge, pair_book(session, knowledge), form)
    return render(request, TEMPLATE, view, status=UNREADABLE)


def _signed_by(request: Request) -> dict[str, str]:
    """Who signs: name and roles of the account, and nothing that is typed."""
    person = signed_in(request)
    return {
        "by": person.name[:LONGEST_NAME],
        "role": roles_text(person.roles)[:LONGEST_NAME],
    }


def _signer(request: Request) -> str:
    person = person_of(request)
    if person is None or not person.may(Act.SIGN_NOTES):
        return ""
    return f"{person.name}, {roles_text(person.roles)}"


def _refuse_what_is_settled(request: Request, session: Session, pair: tuple[str, str]) -> None:
    """Only a pair without data, or one on a condition, is a local matter."""
    knowledge: Knowledge = request.app.state.knowledge
    one, other = (_named(key, knowledge) for key in pair)
    if one is None or other is None:
        raise HTTPException(UNREADABLE, "The note does not say which two things it is about.")
    answer = pair_book(session, knowledge).answer(one, other)
    if not answer.decisive.may_be_signed:
        text = "Of these two something is known, or a note counts already: no note can be signed."
        raise HTTPException(CONFLICT, text)


def _named(key: str, knowledge: Knowledge) -> Substance | None:
    """The one thing a drug's key or a fluid's id names; None for anything else."""
    thing = read_thing("", key, name_book(knowledge.catalogue, knowledge.vocabulary))
    if len(thing.meant) != 1 or key in MARKS:
        return None
    substance = thing.meant[0].substance
    return substance if key in substance.names else None
