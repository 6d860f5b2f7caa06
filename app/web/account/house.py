"""/sign-in/house: out to the hospital's own sign-in, and back."""

from datetime import UTC, datetime
from typing import Annotated, Final

from fastapi import APIRouter, Form, Request
from fastapi.responses import RedirectResponse, Response

from app.security.cookies import is_safe
from app.security.oidc.arrival import HOUSE, NotLetIn, account_for
from app.security.oidc.asking import Asking, granted_of
from app.security.oidc.claims import NotBelieved
from app.security.oidc.flow import KEPT_FOR_S, Stood, begin, finish
from app.security.oidc.provider import OutOfReach
from app.security.oidc.setting_out import SetOut, sealed_way, way_of
from app.security.oidc.threads import in_own_thread
from app.security.sign_in import SignedIn, sign_in_person
from app.settings import Settings
from app.storage.database import transaction
from app.web.account.coming_in import kept_answer, led_on
from app.web.account.forms import SIGNED_OUT, panel, sign_in_form
from app.web.account.menu import standing_in
from app.web.account.views import Panel
from app.web.render import SEE_OTHER, own_address, wants_part

router: Final = APIRouter(include_in_schema=False)
COOKIE: Final = "ringside-way"
WAY: Final = "/sign-in/house"
NOT_NOW: Final = 503
NO_HOUSE: Final = "This server is not joined to a sign-in of the hospital’s. Sign in by password."
TOO_LATE: Final = (
    "This way in was begun in another browser, or more than ten minutes ago. Begin again."
)
NOT_TAKEN: Final = "The hospital’s sign-in was not taken: {}. Begin again."
NOT_YET: Final = "You are not signed in yet."
ADMINISTRATORS: Final = " An administrator of this server can come in by password meanwhile."


@router.get("/sign-in/house")
async def set_out(request: Request, back: str = "/") -> Response:
    """Send the browser to the hospital's sign-in."""
    return await in_own_thread(_set_out, request, back)


def _set_out(request: Request, back: str) -> Response:
    asking: Asking | None = request.app.state.asking
    settings: Settings = request.app.state.settings
    if asking is None:
        return sign_in_form(request, said=NO_HOUSE, back=own_address(back))
    now = datetime.now(UTC)
    try:
        begun = begin(asking.desk, now.timestamp())
    except OutOfReach as silent:
        return sign_in_form(
            request, status=NOT_NOW, said=f"{silent}{ADMINISTRATORS}", back=own_address(back)
        )
    answer = RedirectResponse(begun.address, SEE_OTHER)
    way = sealed_way(SetOut(begun, own_address(back)), settings.secret, now)
    answer.set_cookie(
        COOKIE, way, max_age=KEPT_FOR_S, path=WAY, secure=is_safe(request, settings),
        httponly=True, samesite="lax",
    )  # fmt: skip
    return answer


@router.get("/sign-in/house/back")
async def come_back(request: Request) -> Response:
    """The browser is back: look at what the hospital's sign-in says, and lead on."""
    return await in_own_thread(_come_back, request)


def _come_back(request: Request) -> Response:
    asking: Asking | None = request.app.state.asking
    settings: Settings = request.app.state.settings
    now = datetime.now(UTC)
    way = way_of(request.cookies.get(COOKIE, ""), settings.secret, now)
    if asking is None or way is None:
        said = NO_HOUSE if asking is None else TOO_LATE
        return _forgotten(sign_in_form(request, said=said))
    try:
        stood = finish(asking.desk, way.begun, dict(request.query_params), int(now.timestamp()))
        answer = _let_in(request, asking, stood, way.back)
    except NotBelieved as wrong:
        answer = sign_in_form(request, said=NOT_TAKEN.format(wrong), back=way.back)
    except OutOfReach as silent:
        said = f"{silent}{ADMINISTRATORS}"
        answer = sign_in_form(request, status=NOT_NOW, said=said, back=way.back)
    except NotLetIn as refused:
        answer = sign_in_form(request, said=str(refused), back=way.back)
    return _forgotten(answer)


def _let_in(request: Request, asking: Asking, stood: Stood, back: str) -> Response:
    """Into an account of theirs. Raises NotLetIn; what it brought up to date stays."""
    before, now = standing_in(request), datetime.now(UTC)
    refused: NotLetIn | None = None
    with transaction(request.app.state.engine) as session:
        try:
            account = account_for(session, asking.desk.house, stood.told, now)
        except NotLetIn as wrong:
            refused = wrong
        else:
            granted = granted_of(stood, asking.secret)
            key = sign_in_person(
                session, account, via=HOUSE, now=now, before=before, granted=granted
            )
    if refused is not None:
        raise refused
    return led_on(request, SignedIn(account, key), before, back=back)


def _forgotten(answer: Response) -> Response:
    answer.delete_cookie(COOKIE, path=WAY)
    return answer


@router.post("/sign-in/house/on")
def go_on(
    request: Request, kept: Annotated[str, Form()] = "", was: Annotated[str, Form()] = ""
) -> Response:
    """Somebody signed in beside a page that keeps what they typed, and goes on with it.

    was: the name of the person whose page it is.
    """
    person = standing_in(request).present
    if person is None:
        return sign_in_form(request, status=SIGNED_OUT, said=NOT_YET, kept=kept)
    if not wants_part(request):
        return kept_answer(request, person, kept)
    other = was not in ("", person.name)
    return panel(request, Panel("other" if other else "open", name=person.name, other=was))
