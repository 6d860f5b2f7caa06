"""The trail of acts: what was done to the content, by whom and when; and the trail as a file."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Annotated, Final
from zoneinfo import ZoneInfo

from fastapi import APIRouter, Form, Request
from fastapi.responses import HTMLResponse, Response, StreamingResponse
from pydantic import BaseModel, Field
from sqlalchemy import Engine
from sqlalchemy.orm import Session

from app.catalogue.catalogue import Catalogue
from app.storage.audit.acts import EXPORTED
from app.storage.audit.chain import Link
from app.storage.audit.reading import Wanted, acts_told, all_acts, count_acts, read_acts, read_head
from app.storage.audit.trail import record
from app.storage.database import reading, transaction
from app.storage.patients import read_unit
from app.web.audit.asked import FILTERS, Asked, asked
from app.web.audit.chain_state import ChainState, chain_state
from app.web.audit.sentences import ActRow, act_row, act_words
from app.web.audit.sheet import acts_csv, acts_json_lines
from app.web.audit.subjects import kinds_for
from app.web.render import render
from app.web.show import count, day
from app.web.who import signed_in

router: Final = APIRouter(include_in_schema=False)
ROWS: Final = 50
# Counting a million acts would take longer than reading the page.
MOST_COUNTED: Final = 10_000
Lines = Callable[[Iterable[Link]], Iterator[str]]
FILES: Final[Mapping[str, tuple[str, str, Lines]]] = {
    "csv": ("text/csv; charset=utf-8", "acts.csv", acts_csv),
    "jsonl": ("application/jsonl; charset=utf-8", "acts.jsonl", acts_json_lines),
}


@dataclass(frozen=True, slots=True)
class TrailPage:
    """Acts newest first. older, newest: addresses, empty where there is nothing to go to.

    told_acts: every act there has been, with its words, to choose from; only_content: whether acts
    on people are left out for who asks.
    """

    rows: tuple[ActRow, ...]
    found: str
    asked: Asked
    told_acts: Mapping[str, str]
    older: str
    newest: str
    chain: ChainState
    only_content: bool
    zone: str


@router.get("/audit")
def show_trail(request: Request, check: str = "") -> HTMLResponse:
    """Acts that are wanted, newest first, and whether the chain is whole."""
    with reading(request.app.state.engine) as session:
        view = trail_page(request, session, anew=check == "anew")
    return render(request, "audit/trail.html", view, part="audit/_acts.html")


class Taken(BaseModel):
    """What is to be taken away: the filters of the page, and as which file."""

    form: str = Field("csv", alias="as")
    who: str = ""
    act: str = ""
    subject: str = ""
    since: str = ""
    until: str = ""


@router.post("/audit/export")
def export_trail(request: Request, taken: Annotated[Taken, Form()]) -> Response:
    """What is wanted as a file, oldest first; that it was taken is an act itself."""
    engine: Engine = request.app.state.engine
    kind = taken.form if taken.form in FILES else "csv"
    with transaction(engine) as session:
        what = _asked(request, session, taken.model_dump(include=set(FILTERS)))
        upto = _note_export(request, session, what, kind)
    media, name, lines = FILES[kind]
    return StreamingResponse(
        _streamed(engine, what.wanted, upto, lines),
        media_type=media,
        headers={
            "Content-Disposition": f'attachment; filename="{name}"',
            "Cache-Control": "no-store",
        },
    )


def trail_page(request: Request, session: Session, *, anew: bool) -> TrailPage:
    """Everything on the page."""
    zone, catalogue = _zone(session), _catalogue(request)
    what = _asked(request, session, request.query_params)
    links = read_acts(session, what.wanted, ROWS + 1, before=what.under)
    shown = links[:ROWS]
    return TrailPage(
        rows=tuple(act_row(link, catalogue, moment(link.at.astimezone(zone))) for link in shown),
        found=_found(count_acts(session, what.wanted, MOST_COUNTED)),
        asked=what,
        told_acts={act: act_words(act) for act in acts_told(session, what.wanted.kinds)},
        older=what.address(shown[-1].seq) if len(links) > ROWS else "",
        newest=what.address() if what.under else "",
        chain=chain_state(request.app.state, session, datetime.now(zone), anew=anew),
        only_content=what.wanted.kinds is not None,
        zone=str(zone).replace("_", " "),
    )


def _found(number: int) -> str:
    if number > MOST_COUNTED:
        return f"More than {MOST_COUNTED:,} acts"
    return count(number, "act")


def moment(local: datetime) -> str:
    """When something was done; the zone is said once for all."""
    return f"{day(local)} {local:%Y}, {local:%H:%M}"


def _asked(request: Request, session: Session, given: Mapping[str, str]) -> Asked:
    return asked(given, _zone(session), kinds_for(signed_in(request)))


def _zone(session: Session) -> ZoneInfo:
    unit = read_unit(session)
    return ZoneInfo(unit.zone if unit else "UTC")


def _catalogue(request: Request) -> Catalogue:
    catalogue: Catalogue = request.app.state.knowledge.catalogue
    return catalogue


def _note_export(request: Request, session: Session, what: Asked, kind: str) -> int:
    """Record that a file is taken; the last row that may be in it."""
    person, head = signed_in(request), read_head(session)
    upto = head.count if head else 0
    after = {"file": kind, "rows up to": upto, **what.typed}
    record(
        session, at=datetime.now(UTC), who=person.name, account_id=person.account_id,
        act=EXPORTED, subject="trail", after=after,
    )  # fmt: skip
    return upto


def _streamed(engine: Engine, wanted: Wanted, upto: int, lines: Lines) -> Iterator[str]:
    """Lines as they are read; the session is open until the last is sent."""
    with reading(engine) as session:
        yield from lines(all_acts(session, wanted, upto))
