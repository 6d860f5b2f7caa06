"""/who-may: the one table of who may do what, as it is in force."""

from dataclasses import dataclass
from typing import Final

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from app.security.acts import MAY, Act, Role
from app.security.person import Person
from app.settings import Settings
from app.web.account.menu import roles_text, standing_in
from app.web.render import render

router: Final = APIRouter(include_in_schema=False)


@dataclass(frozen=True, slots=True)
class Line:
    """One act, and for each role whether it may."""

    act: str
    may: tuple[bool, ...]
    anyone: bool


@dataclass(frozen=True, slots=True)
class WhoMayPage:
    """The table. yours: the roles of whoever reads it."""

    roles: tuple[str, ...]
    lines: tuple[Line, ...]
    yours: str
    open_reading: bool
    idle: str
    hours: str


@router.get("/who-may")
def who_may(request: Request) -> HTMLResponse:
    """Who may do what here."""
    settings: Settings = request.app.state.settings
    return render(
        request, "account/who_may.html", who_may_page(settings, standing_in(request).present)
    )


def who_may_page(settings: Settings, person: Person | None) -> WhoMayPage:
    """The table in words."""
    lines = tuple(
        Line(
            act.says[0].upper() + act.says[1:],
            tuple(act in MAY[role] for role in Role),
            act is Act.READ_CATALOGUE and settings.open_reading,
        )
        for act in Act
    )
    return WhoMayPage(
        roles=tuple(Role),
        lines=lines,
        yours=roles_text(person.roles) if person else "",
        open_reading=settings.open_reading,
        idle=f"{settings.idle_minutes:g}",
        hours=f"{settings.session_hours:g}",
    )
