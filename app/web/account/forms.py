"""The sign-in form in its three shapes: a page, the lock over a page, the panel within one."""

from collections.abc import AsyncIterator, Iterable
from contextlib import asynccontextmanager
from datetime import UTC, datetime
from typing import Final
from urllib.parse import urlencode

from fastapi import Request
from fastapi.responses import HTMLResponse
from sqlalchemy.orm import Session
from starlette.datastructures import FormData, UploadFile
from starlette.exceptions import HTTPException

from app.security.headers import BODY_TOO_LARGE
from app.security.kept import Fields, Kept, TooMuchTyped, seal, worth_keeping
from app.security.standing import Standing, State
from app.settings import Settings
from app.storage.database import reading
from app.storage.people.accounts import all_accounts
from app.web.account.menu import standing_in
from app.web.account.views import DemoSignIn, Panel, SignInPage
from app.web.render import render, wants_part

SIGNED_OUT: Final = 401
AGAIN: Final = "again"
KEPT: Final = "kept"
OURS: Final = frozenset({"sign_in", "password", "back", AGAIN, KEPT})
MOST_NAMED: Final = 3
FIRST_ACCOUNT: Final = "ringside account add NAME --role administrator"


def sign_in_form(  # noqa: PLR0913 - each is another thing the form says
    request: Request,
    *,
    status: int = SIGNED_OUT,
    said: str = "",
    lead: str = "",
    back: str = "/",
    here: bool = False,
    kept: str = "",
    kept_note: str = "",
    sign_in: str = "",
) -> HTMLResponse:
    """The sign-in page, or the panel when htmx asks."""
    settings: Settings = request.app.state.settings
    standing = standing_in(request)
    same = sign_in in ("", standing.sign_in)
    locked = standing.person if standing.state is State.LOCKED and same else None
    demo, first = people_to_show(request, settings)
    view = SignInPage(
        locked=locked.name if locked else "",
        sign_in=sign_in or standing.sign_in,
        said=said,
        lead=lead,
        back=back,
        here=here,
        kept=kept,
        kept_note=kept_note,
        password=locked is None or locked.via == "local",
        house=house_address(settings, back),
        apart=bool(kept) or wants_part(request),
        demo=demo,
        first=first,
    )
    if wants_part(request):
        return panel(request, Panel("shut", view, name=_who_was(standing)), status=status)
    return render(request, "account/sign_in.html", view, status=status)


def _who_was(standing: Standing) -> str:
    return standing.person.name if standing.person else ""


def panel(request: Request, view: Panel, *, status: int = 200) -> HTMLResponse:
    """The panel, put where the page has it whatever part htmx asked for."""
    answer = render(request, "account/_again.html", view, status=status)
    answer.headers["HX-Retarget"] = "#again"
    answer.headers["HX-Reswap"] = "outerHTML"
    return answer


def house_address(settings: Settings, back: str) -> str:
    """Where the house's own sign-in begins; empty where there is none."""
    return f"/sign-in/house?{urlencode({'back': back})}" if settings.house else ""


def people_to_show(request: Request, settings: Settings) -> tuple[tuple[DemoSignIn, ...], str]:
    """In demo mode its sign-ins; and the command that makes the first account, if there is none."""
    with reading(request.app.state.engine) as session:
        accounts = [one for one in all_accounts(session) if one.active]
    demo = tuple(
        DemoSignIn(one.sign_in, one.name, ", ".join(sorted(one.roles)))
        for one in accounts
        if one.demo and settings.demo
    )
    usable = [one for one in accounts if settings.demo or not one.demo]
    return demo, "" if usable or settings.house else FIRST_ACCOUNT


@asynccontextmanager
async def form_of(request: Request) -> AsyncIterator[FormData]:
    """What was sent, its files closed afterwards; nothing where it cannot be read as a form.

    Raises HTTPException when it is too large.
    """
    try:
        form = await request.form()
    except HTTPException as fault:
        if fault.status_code == BODY_TOO_LARGE:
            raise
        form = FormData()
    try:
        yield form
    finally:
        await form.close()


def text_of(form: FormData, name: str) -> str:
    """One field as text; empty when it was not sent, or is a file."""
    value = form.get(name, "")
    return value if isinstance(value, str) else ""


def typed_in(form: FormData) -> Iterable[tuple[str, str]]:
    """Everything typed that is not the sign-in form's own."""
    for name, value in form.multi_items():
        if name not in OURS and isinstance(value, str):
            yield name, value


def keep(request: Request, form: FormData) -> tuple[str, str]:
    """What was typed, sealed, and a note of what could not be kept."""
    settings: Settings = request.app.state.settings
    person = standing_in(request).person
    try:
        fields: Fields = worth_keeping(typed_in(form))
    except TooMuchTyped:
        return "", "What was sent is too long to be kept here: go back for it after signing in."
    files = any(isinstance(value, UploadFile) for _, value in form.multi_items())
    note = "Choose the file again after signing in." if files else ""
    if not fields:
        return "", note
    query = request.url.query
    kept = Kept(
        by=person.account_id if person else "",
        by_name=person.name if person else "",
        address=f"{request.url.path}?{query}" if query else request.url.path,
        fields=fields,
    )
    return seal(kept, settings.secret, datetime.now(UTC)), note


def administrators(session: Session) -> str:
    """Whom to ask, by name."""
    names = [
        one.name for one in all_accounts(session) if one.active and "administrator" in one.roles
    ]
    return " or ".join(names[:3])
