"""Writing a fluid's entry: checked while it is typed, kept as a draft that another decides."""

from typing import Annotated, Any, Final

from fastapi import APIRouter, Depends, HTTPException, Request, Response
from fastapi.responses import HTMLResponse, RedirectResponse

from app.catalogue.catalogue import Catalogue
from app.catalogue.changes.change import FluidEntry
from app.catalogue.entry import EntryError
from app.catalogue.labels.reading import read_label
from app.catalogue.labels.taken import taken_from
from app.review.changes.draft import ID, LONGEST_ID, Asked, draft_fluid, draft_removal
from app.review.changes.meanwhile import ChangedMeanwhile, Meanwhile, began_from
from app.review.knowledge import Past
from app.storage.database import reading, transaction
from app.web.at_hand import knowledge
from app.web.changes.draft_view import from_sent_back
from app.web.changes.signed import here, signature_of
from app.web.fluids.edit.fields import LABELS, TERMS
from app.web.fluids.edit.late import others_of, taken_over, their_entries
from app.web.fluids.edit.live import live_of, message_of
from app.web.fluids.edit.reading import Read, read_typed
from app.web.fluids.edit.typed import Typed, sent_form, typed_from
from app.web.fluids.edit.view import Around, Said, Target, Writing, edit_page
from app.web.render import SEE_OTHER, render
from app.web.who import signed_in

router: Final = APIRouter(include_in_schema=False)
NOT_FOUND: Final = 404
CONFLICT: Final = 409
UNREADABLE: Final = 422
PAGE: Final = "catalogue/edit/edit.html"
PART: Final = "catalogue/edit/typed.html"
NO_KEY_YET: Final = "new"
SEND: Final = "send"
REMOVE: Final = "remove"
LABEL: Final = "label"
LONGEST_NUMBER: Final = 9
AT_IT_MEANWHILE: Final = (
    "Not kept: somebody changed this entry, or drafted a change of it, while you wrote. Read what "
    "they did, then say again that it is to leave the catalogue."
)
Sent = Annotated[Typed, Depends(sent_form)]


@router.get("/catalogue/new")
def begin_new(request: Request) -> HTMLResponse:
    """An empty form for a fluid that the catalogue does not have."""
    return _answer(request, Writing(Target("", None), {}, _around(request)), Said())


@router.post("/catalogue/new")
def send_new(request: Request, typed: Sent) -> Response:
    """A new fluid: looked at again, or kept as a draft."""
    return _sent(request, Target("", None), typed)


@router.get("/catalogue/{fluid_id}/edit")
def begin_edit(request: Request, fluid_id: str, revises: int = 0) -> HTMLResponse:
    """The form filled with what is in force, or with a draft that was sent back."""
    around = _around(request)
    target = _target(fluid_id, around)
    former = around.past.history.get(revises)
    filled = typed_from(target.in_force) if target.in_force else {}
    if former is not None and former.change.subject == f"fluid:{target.fluid_id}":
        content = former.change.content
        document = content.document if isinstance(content, FluidEntry) else None
        filled = {**typed_from(document or {}), **from_sent_back(former, around.now)}
        filled.pop("id", None)
    return _answer(request, Writing(target, filled, around), Said())


@router.post("/catalogue/{fluid_id}/edit")
def send_edit(request: Request, fluid_id: str, typed: Sent) -> Response:
    """A fluid's entry: looked at again, or kept as a draft."""
    return _sent(request, _target(fluid_id, _around(request)), typed)


def _around(request: Request) -> Around:
    with reading(request.app.state.engine) as session:
        return Around(Past.of(session), knowledge(request), here(session))


def _target(fluid_id: str, around: Around) -> Target:
    """The entry that is written; one that was taken out, or only drafted, is written anew."""
    held = around.knowledge.catalogue.get(fluid_id)
    key = held.id if held else fluid_id
    document = around.past.documents(around.now).get(key)
    if document is None and not around.past.history.about(f"fluid:{key}"):
        raise HTTPException(NOT_FOUND, f"The catalogue has no fluid “{fluid_id}”.")
    return Target(key, document)


def _sent(request: Request, target: Target, typed: Typed) -> Response:
    around = _around(request)
    key = target.fluid_id or typed.get("id", "").strip()
    try:
        their = their_entries(typed, around.past, f"fluid:{key}", around.now)
    except EntryError as fault:
        return _answer(request, Writing(target, typed, around), _beside(fault), UNREADABLE)
    mine = read_typed(typed, key or NO_KEY_YET).document
    typed = taken_over(typed, mine, their)
    if typed.get("do") == REMOVE and target.in_force is not None:
        return _remove(request, Writing(target, typed, around), typed_from(target.in_force))
    if typed.get("do") == SEND:
        return _draft(request, Writing(target, typed, around))
    said = Said(told="Taken over: what was chosen stands in the form now.") if their else Said()
    if typed.get("do") == LABEL:
        typed, said = _from_label(target, typed)
    return _answer(request, Writing(target, typed, around), said)


def _from_label(target: Target, typed: Typed) -> tuple[Typed, Said]:
    """The form with the label's figures laid over what is typed, or over what is in force."""
    label = read_label(typed.get(LABEL, ""))
    if not label.figures:
        return typed, Said(messages={LABEL: "No figure was read in it. See what is read, below."})
    has_entry = bool(typed.get("name"))
    held = read_typed(typed, target.fluid_id or NO_KEY_YET).document
    document: dict[str, Any] = taken_from(label, held if has_entry else target.in_force or {})
    kept = {name: typed[name] for name in (*TERMS, "id", LABEL) if name in typed}
    count = len(label.figures)
    told = (
        f"{count} figure{'s' * (count != 1)} taken from the label. Look at each, and say under "
        "Sources which label it was."
    )
    return {**typed_from(document), **kept}, Said(told=told)


def _draft(request: Request, writing: Writing) -> Response:
    """Keep the draft; one that is not accepted comes back with all that was typed."""
    read, typed = _read(writing), writing.typed
    if read.faults:
        above = "Not kept yet: some fields are not accepted. They are named beside the form."
        return _answer(request, writing, Said(above=above), UNREADABLE)
    try:
        with transaction(request.app.state.engine) as session:
            by = signature_of(signed_in(request), here(session))
            number = draft_fluid(session, read.document, _asked(typed), by)
        return RedirectResponse(f"/changes/{number}", SEE_OTHER)
    except EntryError as fault:
        return _answer(request, writing, _beside(fault), UNREADABLE)
    except ChangedMeanwhile as changed:
        return _late(request, writing, changed.meanwhile, read)


def _remove(request: Request, writing: Writing, entry: Typed) -> Response:
    """Draft that the fluid leaves the catalogue; refused, the form stands filled with its entry."""
    terms = {name: writing.typed[name] for name in TERMS if name in writing.typed}
    try:
        with transaction(request.app.state.engine) as session:
            by = signature_of(signed_in(request), here(session))
            number = draft_removal(session, writing.target.fluid_id, _asked(terms), by)
        return RedirectResponse(f"/changes/{number}", SEE_OTHER)
    except EntryError as fault:
        said, status = _beside(fault), UNREADABLE
    except ChangedMeanwhile:
        said, status = Said(AT_IT_MEANWHILE), CONFLICT
        terms.pop("based_on", None)
    filled = Writing(writing.target, {**entry, **terms}, _around(request))
    return _answer(request, filled, said, status)


def _asked(typed: Typed) -> Asked:
    revises = typed.get("revises", "")[:LONGEST_NUMBER]
    return Asked(
        reason=typed.get("reason", ""),
        effective_from=typed.get("effective_from", ""),
        review_on=typed.get("review_on", ""),
        based_on=typed.get("based_on", ""),
        revises=int(revises) if revises.isascii() and revises.isdigit() else 0,
    )


def _beside(fault: EntryError) -> Said:
    """A fault of what stands round the entry beside its field; one of a check above the form."""
    if fault.field in (*TERMS, "id") and fault.field in LABELS:
        above = f"Not kept yet. {LABELS[fault.field]}: {message_of(fault)}"
        return Said(above, {fault.field: message_of(fault)})
    if fault.field == "value":
        return Said("Not kept: nothing differs from what is in force.")
    return Said(f"Not kept yet. {fault.field.capitalize()}: {fault.accepted}.")


def _late(request: Request, writing: Writing, late: Meanwhile, read: Read) -> HTMLResponse:
    """Somebody was at the same: what they made of it, field by field."""
    around = _around(request)
    subject = f"fluid:{read.document['id']}"
    began = began_from(writing.typed.get("based_on", ""), around.now)
    others = others_of(late, around.past, subject, read.document, (began, around.now))
    now = Writing(writing.target, writing.typed, around)
    return _answer(request, now, Said(others=others), CONFLICT)


def _read(writing: Writing) -> Read:
    """The entry as typed; a key or a name that another fluid has is not accepted."""
    target, catalogue = writing.target, writing.around.knowledge.catalogue
    key = target.fluid_id or writing.typed.get("id", "").strip() or NO_KEY_YET
    read = read_typed(writing.typed, key)
    faults = dict(read.faults)
    key_fault = None if target.fluid_id else _key_fault(key, catalogue)
    if key_fault is not None:
        faults["id"] = key_fault
    name = read.fluid.name
    same = [one.id for one in catalogue if one.id != key and one.name.lower() == name.lower()]
    if same:
        faults["name"] = EntryError("name", name, f"a name that {same[0]} does not have")
    return Read(read.document, read.fluid, faults)


def _key_fault(key: str, catalogue: Catalogue) -> EntryError | None:
    """What is wrong with the key of a new fluid; it becomes part of addresses and never changes."""
    if not ID.fullmatch(key) or len(key) > LONGEST_ID or key == NO_KEY_YET:
        told = "" if key == NO_KEY_YET else key
        accepted = "small letters, digits and hyphens, such as ringers-acetate-2"
        return EntryError("id", told, accepted)
    if catalogue.get(key) is not None:
        return EntryError("id", key, "a key that no fluid has; to change that fluid, open it")
    return None


def _answer(request: Request, writing: Writing, said: Said, status: int = 200) -> HTMLResponse:
    typed = writing.typed
    live = live_of(_read(writing), writing.target.in_force, typed.get(LABEL, ""))
    view = edit_page(writing, live if typed else live.before_anything(), said)
    return render(request, PAGE, view, part=PART, status=status)
