"""A label's text held against a fluid's entry: what differs, what agrees, what was not read."""

from dataclasses import dataclass
from typing import Annotated, Final

from fastapi import APIRouter, Form, HTTPException, Request
from fastapi.responses import HTMLResponse

from app.catalogue.fluid import Fluid
from app.catalogue.labels.compared import held_against
from app.catalogue.labels.held import Held
from app.catalogue.labels.help import HELP, Help
from app.catalogue.labels.reading import LONGEST_LABEL, read_label
from app.security.acts import Act
from app.web.at_hand import knowledge
from app.web.fluids.card import Variant, variants
from app.web.render import render
from app.web.who import person_of

router: Final = APIRouter(include_in_schema=False)
NOT_FOUND: Final = 404
UNREADABLE: Final = 422
PAGE: Final = "catalogue/edit/label.html"
PART: Final = "catalogue/edit/_held.html"
NOTHING_TYPED: Final = "Nothing is written. Accepted: the label’s text, typed or pasted."
TOO_LONG: Final = f"It is longer than {LONGEST_LABEL:,} characters; only so many were read."


@dataclass(frozen=True, slots=True)
class LabelPage:
    """A label beside an entry. held: None before anything was sent. variants: other entries of the
    same bare name, one of which the label may be of.
    """

    fluid: Fluid
    text: str
    held: Held | None
    headline: str
    fault: str
    variants: tuple[Variant, ...]
    may_draft: bool
    longest: int = LONGEST_LABEL
    help: Help = HELP


@router.get("/catalogue/{fluid_id}/label")
def begin_label(request: Request, fluid_id: str) -> HTMLResponse:
    """An empty page."""
    return _answer(request, _fluid(request, fluid_id), None)


@router.post("/catalogue/{fluid_id}/label")
def hold_label(request: Request, fluid_id: str, label: Annotated[str, Form()] = "") -> HTMLResponse:
    """A label held against the entry. Nothing is saved."""
    return _answer(request, _fluid(request, fluid_id), label)


def _fluid(request: Request, fluid_id: str) -> Fluid:
    found = knowledge(request).catalogue.get(fluid_id)
    if found is None:
        raise HTTPException(NOT_FOUND, f"The catalogue has no fluid “{fluid_id}”.")
    return found


def _answer(request: Request, fluid: Fluid, label: str | None) -> HTMLResponse:
    text = (label or "").replace("\r\n", "\n")
    fault = "" if label is None or text.strip() else NOTHING_TYPED
    if len(text) > LONGEST_LABEL:
        fault = TOO_LONG
    held = held_against(read_label(text), fluid) if text.strip() else None
    person = person_of(request)
    view = LabelPage(
        fluid=fluid,
        text=text[:LONGEST_LABEL],
        held=held,
        headline=headline_of(held),
        fault=fault,
        variants=variants(fluid, knowledge(request).catalogue),
        may_draft=person is not None and person.may(Act.DRAFT),
    )
    status = UNREADABLE if fault == NOTHING_TYPED else 200
    return render(request, PAGE, view, part=PART, status=status)


def headline_of(held: Held | None) -> str:
    """What came of it, in a line; what could not be compared is never said to agree."""
    if held is None:
        return ""
    differ, same = len(held.differences), len(held.same)
    if not differ and not same:
        return "Nothing of this label could be compared"
    left = "; something was not read" if held.unread else ""
    if differ:
        return f"{differ} figure{'s differ' if differ != 1 else ' differs'}, {same} agree{left}"
    return (
        f"All {same} figures that were read agree{left}"
        if same > 1
        else f"One figure was read and agrees{left}"
    )
