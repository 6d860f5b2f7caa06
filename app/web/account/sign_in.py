"""/sign-in and /sign-out."""

from datetime import UTC, datetime
from typing import Annotated, Final

from fastapi import APIRouter, Form, Request
from fastapi.responses import RedirectResponse, Response
from starlette.datastructures import FormData

from app.security.cookies import take_key
from app.security.standing import State
from app.settings import Settings
from app.storage.database import transaction
from app.storage.people.sessions import end_session
from app.web.account.coming_in import come_in
from app.web.account.forms import KEPT, sign_in_form
from app.web.account.menu import home_of, standing_in
from app.web.render import SEE_OTHER, own_address

router: Final = APIRouter(include_in_schema=False)
SIGNED_OUT_BY: Final = "signed out"
OK: Final = 200


@router.get("/sign-in")
def show_sign_in(request: Request, back: str = "/", other: bool = False) -> Response:
    """The sign-in page; somebody who is signed in already is led on, unless another wants in."""
    standing = standing_in(request)
    if standing.present is not None and not other:
        return RedirectResponse(_on(back, home_of(standing.present)), SEE_OTHER)
    if other:
        request.state.standing = None  # another person's name is asked for
    return sign_in_form(request, status=OK, back=own_address(back))


def _on(back: str, home: str) -> str:
    ours = own_address(back)
    return home if ours in ("/", "/sign-in") else ours


@router.post("/sign-in")
async def sign_in(
    request: Request,
    sign_in: Annotated[str, Form()] = "",
    password: Annotated[str, Form()] = "",
    back: Annotated[str, Form()] = "/",
    kept: Annotated[str, Form()] = "",
) -> Response:
    """Look at name and password, and lead on to where somebody came from."""
    form = FormData([("sign_in", sign_in), ("password", password), (KEPT, kept)])
    return await come_in(request, form, back=own_address(back))


@router.post("/sign-out")
def sign_out(request: Request) -> Response:
    """End this browser's session."""
    settings: Settings = request.app.state.settings
    standing = standing_in(request)
    if standing.state in (State.OPEN, State.LOCKED):
        with transaction(request.app.state.engine) as session:
            end_session(session, standing.session_id, datetime.now(UTC), SIGNED_OUT_BY)
    return take_key(RedirectResponse("/sign-in", SEE_OTHER), request, settings)
