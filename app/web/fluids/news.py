"""What changed in stock while a page stood open: a small part that open pages ask for."""

from dataclasses import dataclass
from typing import Annotated, Final
from urllib.parse import urlsplit

from fastapi import APIRouter, Query, Request, Response
from fastapi.responses import RedirectResponse

from app.catalogue.catalogue import Catalogue
from app.catalogue.stock.stock import Stock
from app.review.workflow import now_in
from app.storage.database import reading
from app.storage.patients import read_unit
from app.storage.stock import read_last, read_told_after
from app.web.fluids.shelf import stock_view
from app.web.render import SEE_OTHER, own_address, render, wants_part

router: Final = APIRouter(include_in_schema=False)
NO_NEWS: Final = 204
NOT_TOLD_ANY_MORE: Final = "nobody tells any more where it is"
PART: Final = "stock/_news.html"
# Looks again by itself; a link there would lose what was typed.
ORDER_PAGE: Final = "/orders"
CHANGED: Final = "stock-changed"


@dataclass(frozen=True, slots=True)
class NewsLine:
    """One fluid and where it is now."""

    fluid_id: str
    name: str
    words: str
    why: str


@dataclass(frozen=True, slots=True)
class News:
    """What was told since a page was made. seen: the last thing told then; told: the last that the
    page was sent; again: where to look again, empty where the page does so by itself.
    """

    seen: int = 0
    told: int = 0
    lines: tuple[NewsLine, ...] = ()
    again: str = ""


@dataclass(frozen=True, slots=True)
class NewsPart:
    """What the part may use."""

    news: News


def news_of(stock: Stock) -> News:
    """Nothing new yet: a page that is being made shows what is told now."""
    return News(stock.last, stock.last)


@router.get("/stock/news")
def stock_news(
    request: Request, seen: Annotated[int, Query(ge=0)] = 0, told: Annotated[int, Query(ge=0)] = 0
) -> Response:
    """What was told of stock since a page was made; nothing when it has been sent already."""
    if not wants_part(request):
        return RedirectResponse("/catalogue", SEE_OTHER)
    state = request.app.state
    with reading(state.engine) as session:
        last = read_last(session)
        if last <= max(seen, told):
            return Response(status_code=NO_NEWS, headers={"Cache-Control": "no-store"})
        now = now_in(read_unit(session))
        states = read_told_after(session, seen)
    catalogue: Catalogue = state.knowledge.catalogue
    named = ((catalogue.get(key), stock_view(one, now)) for key, one in states.items())
    lines = tuple(
        NewsLine(fluid.id, fluid.name, view.words or NOT_TOLD_ANY_MORE, view.why)
        for fluid, view in named
        if fluid is not None
    )
    part = NewsPart(News(seen, last, lines, _again(request)))
    answer = render(request, PART, part, part=PART)
    answer.headers["HX-Trigger"] = CHANGED
    return answer


def _again(request: Request) -> str:
    """The address of the page that asks, without what is not ours."""
    try:
        parts = urlsplit(request.headers.get("hx-current-url", ""))
    except ValueError:
        return ""
    if parts.path.startswith(ORDER_PAGE):
        return ""
    return own_address(f"{parts.path}?{parts.query}" if parts.query else parts.path)
