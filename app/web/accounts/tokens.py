"""/accounts/tokens: tokens of machine clients, made, shown once, and ended."""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Annotated, Final

from fastapi import APIRouter, Form, HTTPException, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from app.security.acts import Scope
from app.settings import Settings
from app.storage.database import reading, transaction
from app.storage.people.tokens import Token, all_tokens, end_token, make_token, read_token
from app.web.account.keeping import noted
from app.web.account.sittings import ago, moment
from app.web.render import SEE_OTHER, render
from app.web.who import signed_in

router: Final = APIRouter(include_in_schema=False)
NOT_FOUND: Final = 404
UNREADABLE: Final = 422
LONGEST_NAME: Final = 80
MOST_DAYS: Final = 400
USUAL_DAYS: Final = "90"


@dataclass(frozen=True, slots=True)
class TokenLine:
    """One token, without its key, which nobody knows any more."""

    id: str
    name: str
    scopes: str
    made: str
    expires: str
    used: str
    state: str
    opens: bool


@dataclass(frozen=True, slots=True)
class TokensPage:
    """All tokens, and the form for a new one. key: of the token just made, shown this once."""

    lines: tuple[TokenLine, ...]
    scopes: tuple[str, ...]
    from_environment: int
    name: str = ""
    chosen: tuple[str, ...] = ()
    days: str = USUAL_DAYS
    most_days: int = MOST_DAYS
    fault: tuple[str, str] = ("", "")
    key: str = ""
    longest: int = LONGEST_NAME


@router.get("/accounts/tokens")
def list_tokens(request: Request) -> HTMLResponse:
    """Every token."""
    return _list(request)


def _list(request: Request, status: int = 200, **more: object) -> HTMLResponse:
    settings: Settings = request.app.state.settings
    now = datetime.now(UTC)
    with reading(request.app.state.engine) as session:
        lines = tuple(token_line(one, now) for one in all_tokens(session))
    view = TokensPage(lines, tuple(Scope), len(settings.api_tokens), **more)  # type: ignore[arg-type]
    return render(request, "account/tokens.html", view, status=status)


def token_line(token: Token, now: datetime) -> TokenLine:
    """One token in words."""
    if token.ended_at is not None:
        state = f"ended {moment(token.ended_at)}"
    else:
        state = "opens" if token.opens(now) else "expired"
    return TokenLine(
        id=token.id,
        name=token.name,
        scopes=", ".join(sorted(token.scopes)),
        made=f"{moment(token.made_at)}, {token.made_by}",
        expires=moment(token.expires_at),
        used=ago(token.used_at, now),
        state=state,
        opens=token.opens(now),
    )


@router.post("/accounts/tokens")
def new_token(
    request: Request,
    name: Annotated[str, Form()] = "",
    days: Annotated[str, Form()] = "",
    scope: Annotated[list[str] | None, Form()] = None,
) -> Response:
    """Make a token; its key is shown this once."""
    scopes, name = tuple(scope or ()), " ".join(name.split())
    fault = token_fault(name, days, scopes)
    if fault[0]:
        typed = {"name": name, "days": days, "chosen": scopes}
        return _list(request, UNREADABLE, fault=fault, **typed)
    now, person = datetime.now(UTC), signed_in(request)
    lasts = (now, now + timedelta(days=int(days)))
    with transaction(request.app.state.engine) as session:
        token, key = make_token(session, name, scopes, by=person.name, lasts=lasts)
        after = {"name": name, "scopes": sorted(scopes), "expires_at": lasts[1].isoformat()}
        noted(request, session, "token made", f"token:{token.id}", after=after)
    return _list(request, key=key)


def token_fault(name: str, days: str, scopes: tuple[str, ...]) -> tuple[str, str]:
    """The first field that is not accepted, and what is."""
    if not name or len(name) > LONGEST_NAME:
        return "name", f"Accepted: 1 to {LONGEST_NAME} characters, such as the system’s name."
    is_number = days.isascii() and days.isdigit() and len(days) <= len(str(MOST_DAYS))
    if not is_number or not 1 <= int(days) <= MOST_DAYS:
        return "days", f"“{days}” is not accepted. Accepted: whole days from 1 to {MOST_DAYS}."
    if not scopes or not set(scopes) <= set(Scope):
        return "scope", "Accepted: at least one of these parts."
    return "", ""


@router.post("/accounts/tokens/{token_id}/end")
def stop_token(request: Request, token_id: str) -> Response:
    """End a token: its next call is refused."""
    with transaction(request.app.state.engine) as session:
        if read_token(session, token_id) is None:
            raise HTTPException(NOT_FOUND, "There is no such token.")
        end_token(session, token_id, datetime.now(UTC))
        noted(request, session, "token ended", f"token:{token_id}")
    return RedirectResponse("/accounts/tokens", SEE_OTHER)
