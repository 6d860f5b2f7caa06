"""A whole page or one part of it, and the look it is drawn in."""

import hashlib
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache, partial
from pathlib import Path
from typing import Final
from urllib.parse import urlsplit

from fastapi import APIRouter, Form, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from jinja2 import Environment, FileSystemLoader, StrictUndefined

from app.cautions.phrases import opening
from app.web.account.menu import Menu, leads_on, may_open, menu_of
from app.web.account.views import Panel

ROOT: Final = Path(__file__).resolve().parents[2]
STATIC: Final = ROOT / "static"
LOOKS: Final = {"auto": "By the screen", "light": "Light", "night": "Night", "projector": "Wall"}
LOOK_COOKIE: Final = "look"
LOOK_KEPT_S: Final = 365 * 24 * 3600
SEE_OTHER: Final = 303

# Address, word, and the beginnings of the addresses that belong to it.
PLACES: Final = (
    ("/", "Shift", ("/patients", "/lines")),
    ("/compare", "Compare", ("/compare",)),
    ("/predict", "Predict", ("/predict",)),
    ("/orders/new", "Order", ("/orders",)),
    ("/catalogue", "Fluids", ("/catalogue", "/co-infusion", "/shortage")),
    ("/rules", "Rules", ("/rules", "/changes", "/burden")),
    ("/about", "About", ("/about", "/hazards", "/audit")),
)

pages: Final = Environment(
    loader=FileSystemLoader(ROOT / "templates"),
    undefined=StrictUndefined,
    autoescape=True,
    trim_blocks=True,
    lstrip_blocks=True,
)
router = APIRouter(include_in_schema=False)


@dataclass(frozen=True, slots=True)
class Place:
    """One word of the header's row of places."""

    href: str
    word: str
    here: bool


@dataclass(frozen=True, slots=True)
class Frame:
    """What stands round every page. leads_on: whether an address is open to whoever reads it."""

    unit: str
    look: str
    looks: tuple[tuple[str, str], ...]
    places: tuple[Place, ...]
    back: str
    menu: Menu
    again: Panel
    leads_on: Callable[[str], bool]
    home: str = "/"


@cache
def static_address(name: str) -> str:
    """Address of a static file; it changes with the content, so a browser may keep it."""
    digest = hashlib.sha256((STATIC / name).read_bytes()).hexdigest()[:8]
    return f"/static/{name}?v={digest}"


pages.globals["static"] = static_address
# Unlike capitalize it leaves "ECG" and "pH" as they are written.
pages.filters["opening"] = opening


def render(
    request: Request, page: str, view: object, *, part: str | None = None, status: int = 200
) -> HTMLResponse:
    """The whole page, or only `part` when htmx asks for a part.

    page, part: template names; view: the page's frozen dataclass.
    """
    name = part if part is not None and wants_part(request) else page
    html = pages.get_template(name).render(view=view, frame=frame_of(request))
    return HTMLResponse(
        html,
        status_code=status,
        # A page of patients is never kept; the same address answers htmx with a part.
        headers={"Cache-Control": "no-store", "Vary": "HX-Request"},
    )


def wants_part(request: Request) -> bool:
    """True when htmx asks for a part; going back in history needs the whole page."""
    headers = request.headers
    return headers.get("hx-request") == "true" and "hx-history-restore-request" not in headers


def frame_of(request: Request) -> Frame:
    """Unit, look and the place we are at."""
    path = request.url.path
    places = tuple(
        Place(href, word, _is_here(path, href, of))
        for href, word, of in PLACES
        if may_open(request, href)
    )
    menu = menu_of(request)
    return Frame(
        unit=getattr(request.app.state, "unit_name", "Demo unit"),
        look=look_of(request),
        looks=tuple(LOOKS.items()),
        places=places,
        back=_back(request, places),
        menu=menu,
        again=Panel("open" if menu.name else "none", name=menu.name),
        leads_on=partial(leads_on, request),
        home=menu.home,
    )


def _back(request: Request, places: tuple[Place, ...]) -> str:
    """Where a chosen look leads back to: this page, or its place when it was sent as a form."""
    if request.method == "GET":
        query = request.url.query
        return f"{request.url.path}?{query}" if query else request.url.path
    return next((place.href for place in places if place.here), "/")


def look_of(request: Request) -> str:
    """The look this browser chose; "auto" follows the screen's own light or dark setting."""
    chosen = request.cookies.get(LOOK_COOKIE, "auto")
    return chosen if chosen in LOOKS else "auto"


def _is_here(path: str, href: str, beginnings: tuple[str, ...]) -> bool:
    return path == href or any(path == b or path.startswith(f"{b}/") for b in beginnings)


@router.post("/look")
def choose_look(look: str = Form("auto"), back: str = Form("/")) -> Response:
    """Keep the look in a cookie and go back to the page."""
    answer = RedirectResponse(own_address(back), SEE_OTHER)
    chosen = look if look in LOOKS else "auto"
    answer.set_cookie(LOOK_COOKIE, chosen, max_age=LOOK_KEPT_S, samesite="strict", httponly=True)
    return answer


def own_address(address: str) -> str:
    """The address if it is one of ours, else the first page: we send nobody elsewhere."""
    parts = urlsplit(address.replace("\\", "/"))
    ours = not parts.scheme and not parts.netloc and parts.path.startswith("/")
    if not ours or parts.path.startswith("//"):
        return "/"
    return f"{parts.path}?{parts.query}" if parts.query else parts.path
