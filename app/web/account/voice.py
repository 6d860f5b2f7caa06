"""What those hear who do not come in."""

from typing import Final

from fastapi import Request
from fastapi.responses import HTMLResponse, JSONResponse, RedirectResponse, Response
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException

from app.security.acts import Act, Role, roles_that_may
from app.security.door import TurnedAway, Why
from app.security.gate import UNATTENDED
from app.security.machines import SEND_A_TOKEN, Machine, Stopped
from app.security.standing import State
from app.storage.database import reading
from app.web import errors
from app.web.account.coming_in import come_in
from app.web.account.forms import (
    AGAIN,
    SIGNED_OUT,
    administrators,
    form_of,
    keep,
    sign_in_form,
)
from app.web.account.menu import listed, roles_text
from app.web.render import SEE_OTHER, wants_part

FORBIDDEN: Final = 403
NOT_BY_THIS_METHOD: Final = 405
OWN_PASSWORD: Final = "/account#password"
WATCH: Final = ("GET", "/account/watch")


class Voice:
    """The door's voice."""

    def refuse(self, request: Request, status: int, text: str = "") -> Response:
        """An answer that needs no more than a status."""
        return errors.refuse(request, status, text)

    async def turn_away(self, request: Request, turned: TurnedAway) -> Response:
        """The answer to a person who does not come in."""
        try:
            return await _turned_away(request, turned)
        except HTTPException as fault:
            return errors.refuse(request, fault.status_code, str(fault.detail))

    def stop_machine(self, request: Request, machine: Machine) -> Response:
        """The answer to a program."""
        return stop_machine(machine)


async def _turned_away(request: Request, turned: TurnedAway) -> Response:
    if turned.why is Why.NOT_WRITTEN:
        return await _not_written(request, turned)
    if turned.why is Why.FORBIDDEN:
        return await run_in_threadpool(_forbidden, request, turned)
    if turned.why is Why.CHOOSE_PASSWORD:
        return _choose_password(request)
    return await _sign_in_first(request, turned)


async def _sign_in_first(request: Request, turned: TurnedAway) -> Response:
    address = (request.method, turned.found.template)
    if address in UNATTENDED and address != WATCH:
        # The page's own asking brings no panel: somebody may be typing into it.
        return Response(status_code=SIGNED_OUT, headers={"HX-Reswap": "none"})
    if request.method in ("GET", "HEAD"):
        return await run_in_threadpool(_form_here, request)
    async with form_of(request) as form:
        if form.get(AGAIN):
            return await come_in(request, form, back=_here(request), here=True)
        kept, note = ("", "") if wants_part(request) else keep(request, form)
    return await run_in_threadpool(_form_keeping, request, kept, note)


def _here(request: Request) -> str:
    query = request.url.query
    return f"{request.url.path}?{query}" if query else request.url.path


def _form_here(request: Request) -> HTMLResponse:
    return sign_in_form(request, back=_here(request), here=True)


def _form_keeping(request: Request, kept: str, note: str) -> HTMLResponse:
    lead = "Nothing was sent yet." if kept or note else ""
    return sign_in_form(request, lead=lead, kept=kept, kept_note=note)


async def _not_written(request: Request, turned: TurnedAway) -> Response:
    """A form sent to an address that is only read: the lock page of a second window, or wrong."""
    if request.method == "POST" and turned.standing.state is State.OPEN:
        async with form_of(request) as form:
            again = bool(form.get(AGAIN))
        if again:
            return RedirectResponse(_here(request), SEE_OTHER)
    return errors.refuse(request, NOT_BY_THIS_METHOD)


def _choose_password(request: Request) -> Response:
    if wants_part(request):
        return Response(status_code=FORBIDDEN, headers={"HX-Redirect": OWN_PASSWORD})
    return RedirectResponse(OWN_PASSWORD, SEE_OTHER)


def _forbidden(request: Request, turned: TurnedAway) -> Response:
    with reading(request.app.state.engine) as session:
        whom = administrators(session)
    person = turned.standing.person
    roles = person.roles if person else frozenset()
    answer = errors.refuse(request, FORBIDDEN, forbidden_text(roles, turned.lacks, whom))
    if wants_part(request):
        answer.headers["HX-Retarget"], answer.headers["HX-Reswap"] = "#main", "innerHTML"
    return answer


def forbidden_text(roles: frozenset[Role], lacks: tuple[Act, ...], whom: str) -> str:
    """Which roles may, which one has, and whom to ask."""
    said = []
    for act in lacks:
        may = [str(role) for role in roles_that_may(act)]
        said.append(f"To {act.says} is for the {listed(may, 'or')}.")
    yours = f"You are signed in as {roles_text(roles)}." if roles else "You have no role yet."
    ask = f"Ask {whom}, who keeps the accounts." if whom else "Ask whoever keeps the accounts."
    return " ".join((*said, yours, ask))


def stop_machine(machine: Machine) -> JSONResponse:
    """401 to a program nobody knows, 403 to one whose token opens other parts."""
    if machine.stopped is Stopped.OTHER_PART:
        opens = ", ".join(sorted(machine.parts)) or "nothing"
        text = f"a token that opens the part “{machine.asked}”; this one opens: {opens}"
        return _told("Authorization", "", text, FORBIDDEN)
    words = {
        Stopped.EXPIRED: "This token has expired. ",
        Stopped.ENDED: "This token was ended. ",
    }.get(machine.stopped, "")
    answer = _told("", "", f"{words}{SEND_A_TOKEN}", SIGNED_OUT)
    answer.headers["WWW-Authenticate"] = "Bearer"
    return answer


def _told(field: str, value: str, accepted: str, status: int) -> JSONResponse:
    fault = {"field": field, "value": value, "accepted": accepted}
    return JSONResponse({"errors": [fault]}, status)
