"""One try to sign in, from whichever form it came, and where it leads."""

from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Final

from anyio import CapacityLimiter, to_thread
from anyio.lowlevel import RunVar
from fastapi import Request
from fastapi.responses import RedirectResponse, Response
from starlette.datastructures import FormData

from app.security.acts import Role
from app.security.cookies import give_key
from app.security.kept import Kept, unseal
from app.security.person import Person
from app.security.sign_in import NotSignedIn, SignedIn, Tried, sign_in_by_password
from app.security.standing import Standing, State
from app.settings import Settings
from app.web.account.forms import KEPT, SIGNED_OUT, panel, sign_in_form, text_of
from app.web.account.menu import home_of, standing_in
from app.web.account.views import Panel
from app.web.render import SEE_OTHER, own_address, render, wants_part

TOO_MANY: Final = 429
MINUTE_S: Final = 60
TURN: Final[RunVar[CapacityLimiter]] = RunVar("password turn")
WRONG: Final = "The name or the password is not right."
WRONG_PASSWORD: Final = "The password is not right."


@dataclass(frozen=True, slots=True)
class KeptPage:
    """What was typed before the session was over. other: it was another person's, and is not shown.

    state: "same", "other" or "gone".
    """

    state: str
    name: str
    by_name: str = ""
    address: str = ""
    rows: tuple[tuple[str, str], ...] = ()
    home: str = "/"


async def come_in(request: Request, form: FormData, *, back: str, here: bool = False) -> Response:
    """Look at the password in a form, and lead on."""
    return await to_thread.run_sync(come_in_now, request, form, back, here, limiter=_turn())


def _turn() -> CapacityLimiter:
    """One password at a time, and in no thread of the pages': who sends a thousand waits alone."""
    try:
        return TURN.get()
    except LookupError:
        TURN.set(turn := CapacityLimiter(1))
        return turn


def come_in_now(request: Request, form: FormData, back: str, here: bool) -> Response:
    settings: Settings = request.app.state.settings
    before = standing_in(request)
    tried = Tried(
        sign_in=text_of(form, "sign_in") or before.sign_in,
        password=text_of(form, "password"),
        address=request.client.host if request.client else "",
        before=before,
    )
    try:
        signed = sign_in_by_password(request.app.state.engine, tried, settings, datetime.now(UTC))
    except NotSignedIn as refused:
        return _again(request, form, refused, back, here)
    return led_on(request, signed, before, back=back, kept=text_of(form, KEPT))


def _again(
    request: Request, form: FormData, refused: NotSignedIn, back: str, here: bool
) -> Response:
    typed = text_of(form, "sign_in")
    said = wait_text(refused.wait_s) if refused.wait_s else (WRONG if typed else WRONG_PASSWORD)
    kept = text_of(form, KEPT)
    lead = "Nothing was sent yet." if kept else ""
    status = TOO_MANY if refused.wait_s else SIGNED_OUT
    answer = sign_in_form(
        request, status=status, said=said, lead=lead, back=back, here=here, kept=kept, sign_in=typed
    )
    if refused.wait_s:
        answer.headers["Retry-After"] = str(refused.wait_s)
    return answer


def wait_text(wait_s: int) -> str:
    """How long to wait, in words."""
    if wait_s < MINUTE_S:
        left = f"{wait_s} second{'s' * (wait_s != 1)}"
    else:
        minutes = -(-wait_s // MINUTE_S)
        left = f"{minutes} minute{'s' * (minutes != 1)}"
    return (
        f"Too many wrong tries in a row. Try again in {left}; until then no password is looked at. "
        "An administrator can end the wait."
    )


def led_on(
    request: Request, signed: SignedIn, before: Standing, *, back: str, kept: str = ""
) -> Response:
    """Where somebody who just signed in goes on, however they signed in."""
    settings: Settings = request.app.state.settings
    person = person_of(signed)
    request.state.standing = Standing(State.OPEN, person, must_change=signed.account.must_change)
    request.state.person = person
    if wants_part(request):
        answer: Response = _panel(request, person, before)
    elif kept:
        answer = kept_answer(request, person, kept)
    else:
        answer = RedirectResponse(_leads_to(back, person), SEE_OTHER)
    return give_key(answer, request, settings, signed.key)


def person_of(signed: SignedIn) -> Person:
    """Who signed in."""
    account = signed.account
    roles = frozenset(Role(role) for role in account.roles if role in set(Role))
    return Person(account.id, account.name, roles, account.how)


def _leads_to(back: str, person: Person) -> str:
    ours = own_address(back)
    return home_of(person) if ours in ("/", "/sign-in") else ours


def _panel(request: Request, person: Person, before: Standing) -> Response:
    was = before.person
    if was is None or was.account_id == person.account_id:
        return panel(request, Panel("open", name=person.name))
    return panel(request, Panel("other", name=person.name, other=was.name))


def kept_answer(request: Request, person: Person, sealed: str) -> Response:
    """What was typed before, to be looked at and sent."""
    settings: Settings = request.app.state.settings
    kept = unseal(sealed, settings.secret, datetime.now(UTC))
    return render(request, "account/kept.html", kept_page(kept, person))


def kept_page(kept: Kept | None, person: Person) -> KeptPage:
    """What was typed, for the person who typed it and for nobody else."""
    home = home_of(person)
    if kept is None:
        return KeptPage("gone", person.name, home=home)
    if kept.by and kept.by != person.account_id:
        return KeptPage("other", person.name, kept.by_name, home=home)
    return KeptPage("same", person.name, kept.by_name, kept.address, kept.fields, home)
