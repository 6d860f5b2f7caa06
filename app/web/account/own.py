"""/account: one's own password, one's sessions, locking, and whether the session still stands."""

from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Annotated, Final

from fastapi import APIRouter, Form, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from app.security.acts import Act
from app.security.cookies import give_key, take_key
from app.security.passwords import LONGEST, SHORTEST, PasswordRefused, accept, hash_password
from app.security.person import Person
from app.security.sign_in import NotSignedIn, Tried, check_password
from app.storage.database import reading, transaction
from app.storage.people.accounts import LOCAL, set_password
from app.storage.people.sessions import change_key, end_sessions_of, lock, sessions_of
from app.web.account.coming_in import wait_text
from app.web.account.keeping import noted
from app.web.account.menu import roles_text, standing_in
from app.web.account.sittings import SittingView, sitting_views
from app.web.render import SEE_OTHER, own_address, render
from app.web.who import signed_in

router: Final = APIRouter(include_in_schema=False)
UNREADABLE: Final = 422
TOO_MANY: Final = 429
NO_CONTENT: Final = 204
OWN_PASSWORD: Final = "own password changed"
PASSWORD_CHANGED: Final = "the password was changed"
EVERYWHERE: Final = "signed out everywhere"
DONE: Final = {"password": "Your password is changed. Other browsers are signed out."}


# Not frozen: Python itself sets an exception's traceback as it passes a context manager.
@dataclass(unsafe_hash=True)
class Refused(Exception):
    """A field of the password form that is not accepted, and why."""

    field: str
    why: str
    status: int = UNREADABLE


@dataclass(frozen=True, slots=True)
class AccountPage:
    """One's own account. fault: the password field that was not accepted, and why."""

    name: str
    sign_in: str
    roles: str
    may: tuple[str, ...]
    local: bool
    sittings: tuple[SittingView, ...]
    must_change: bool
    fault: tuple[str, str] = ("", "")
    done: str = ""
    shortest: int = SHORTEST
    longest: int = LONGEST


@router.get("/account")
def show_account(request: Request, done: str = "") -> HTMLResponse:
    """One's own account."""
    return _page(request, done=DONE.get(done, ""))


def _page(
    request: Request, *, fault: tuple[str, str] = ("", ""), done: str = "", status: int = 200
) -> HTMLResponse:
    person, standing = signed_in(request), standing_in(request)
    with reading(request.app.state.engine) as session:
        sittings = sessions_of(session, person.account_id)
    view = AccountPage(
        name=person.name,
        sign_in=standing.sign_in,
        roles=roles_text(person.roles),
        may=tuple(act.says for act in Act if person.may(act)),
        local=person.via == LOCAL,
        sittings=sitting_views(sittings, datetime.now(UTC), here=standing.session_id),
        must_change=standing.must_change,
        fault=fault,
        done=done,
    )
    return render(request, "account/account.html", view, status=status)


@router.post("/account/password")
def change_password(
    request: Request,
    old_password: Annotated[str, Form()] = "",
    new_password: Annotated[str, Form()] = "",
    new_password_again: Annotated[str, Form()] = "",
) -> Response:
    """A new password, if the old one is right; every other browser is signed out."""
    person, standing, now = signed_in(request), standing_in(request), datetime.now(UTC)
    try:
        _new_password(person, standing.sign_in, new_password, new_password_again)
        _right_password(request, standing.sign_in, old_password, now)
    except Refused as fault:
        return _page(request, fault=(fault.field, fault.why), status=fault.status)
    with transaction(request.app.state.engine) as session:
        set_password(session, person.account_id, hash_password(new_password))
        end_sessions_of(session, person.account_id, now, PASSWORD_CHANGED, but=standing.session_id)
        key = change_key(session, standing.session_id)
        noted(request, session, OWN_PASSWORD, f"account:{person.account_id}")
    answer = RedirectResponse("/account?done=password", SEE_OTHER)
    return give_key(answer, request, request.app.state.settings, key)


def _new_password(person: Person, sign_in: str, new: str, again: str) -> None:
    if person.via != LOCAL:
        raise Refused("old_password", "Your password is kept by the hospital’s sign-in, not here.")
    try:
        accept(new, sign_in, person.name)
    except PasswordRefused as refused:
        raise Refused("new_password", str(refused)) from None
    if new != again:
        raise Refused("new_password_again", "It differs from the one above.")


def _right_password(request: Request, sign_in: str, password: str, now: datetime) -> None:
    address = request.client.host if request.client else ""
    try:
        check_password(
            request.app.state.engine,
            Tried(sign_in, password, address, standing_in(request)),
            request.app.state.settings,
            now,
        )
    except NotSignedIn as refused:
        if refused.wait_s:
            raise Refused("old_password", wait_text(refused.wait_s), TOO_MANY) from None
        raise Refused("old_password", "This is not your password now.") from None


@router.post("/account/lock")
def lock_now(request: Request, back: Annotated[str, Form()] = "/") -> Response:
    """Show nothing more until the password is given again.

    The key is a new one: a browser that keeps pages for its "back" lets go of them with the cookie.
    """
    standing = standing_in(request)
    with transaction(request.app.state.engine) as session:
        lock(session, standing.session_id, datetime.now(UTC))
        key = change_key(session, standing.session_id)
    answer = RedirectResponse(own_address(back), SEE_OTHER)
    return give_key(answer, request, request.app.state.settings, key)


@router.post("/account/sign-out-everywhere")
def sign_out_everywhere(request: Request) -> Response:
    """End every session of one's own, this one too."""
    person = signed_in(request)
    with transaction(request.app.state.engine) as session:
        end_sessions_of(session, person.account_id, datetime.now(UTC), EVERYWHERE)
    answer = RedirectResponse("/sign-in", SEE_OTHER)
    return take_key(answer, request, request.app.state.settings)


@router.get("/account/watch")
def watch(_request: Request) -> Response:
    """What an open page asks by itself: nothing to say while the session stands."""
    return Response(status_code=NO_CONTENT)


@router.get("/account/here")
def here(_request: Request) -> Response:
    """Somebody types: the door has written it down."""
    return Response(status_code=NO_CONTENT)
