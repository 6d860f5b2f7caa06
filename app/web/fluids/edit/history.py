"""What a fluid's entry said before: every version that counted, and the entry at any moment."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Final

from fastapi import APIRouter, HTTPException, Request
from fastapi.responses import HTMLResponse

from app.catalogue.changes.change import Document
from app.catalogue.changes.differences import Difference, differences, flat, name_of
from app.catalogue.changes.history import Filed
from app.catalogue.changes.versions import FluidVersion
from app.review.knowledge import Past
from app.security.acts import Act
from app.storage.database import reading
from app.web.at_hand import knowledge
from app.web.changes.rows import ChangeRow, change_row
from app.web.changes.signed import here
from app.web.changes.words import moment_text, signed_text
from app.web.render import render
from app.web.who import person_of

router: Final = APIRouter(include_in_schema=False)
NOT_FOUND: Final = 404
UNREADABLE: Final = 422
PAGE: Final = "catalogue/edit/history.html"


@dataclass(frozen=True, slots=True)
class Version:
    """One entry that counted. since: from when; by: who, or which release; number: of its change.

    at: the moment, for the link that shows it whole. gone: it took the fluid out.
    """

    since: str
    at: str
    by: str
    why: str
    number: int
    differences: tuple[Difference, ...]
    is_first: bool
    gone: bool


@dataclass(frozen=True, slots=True)
class AtMoment:
    """The entry as it counted at a moment, field by field; empty where there was none."""

    when: str
    fields: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class HistoryPage:
    """Every version, the newest first. open: what is drafted or waits."""

    fluid_id: str
    name: str
    is_there: bool
    versions: tuple[Version, ...]
    open: tuple[ChangeRow, ...]
    asked: str
    at: AtMoment | None
    fault: str
    may_draft: bool


@router.get("/catalogue/{fluid_id}/history")
def show_history(request: Request, fluid_id: str, at: str = "") -> HTMLResponse:
    """What counted of a fluid, and when; the whole entry at a moment that is asked for."""
    with reading(request.app.state.engine) as session:
        past, now = Past.of(session), here(session)
    held = knowledge(request).catalogue.get(fluid_id)
    key = held.id if held else fluid_id
    versions = tuple(versions_of(past, key, now))
    if not versions and not past.history.about(f"fluid:{key}"):
        raise HTTPException(NOT_FOUND, f"The catalogue has no fluid “{fluid_id}”, and never had.")
    moment, fault = moment_asked(at, now)
    history, person = past.history, person_of(request)
    view = HistoryPage(
        fluid_id=key,
        name=held.name if held else key,
        is_there=held is not None,
        versions=tuple(reversed(versions)),
        open=tuple(
            change_row(one, past, knowledge(request), now)
            for one in history.about(f"fluid:{key}")
            if history.state(one, now) in ("draft", "waiting")
        ),
        asked=at,
        at=at_moment(past, key, moment, now) if moment else None,
        fault=fault,
        may_draft=person is not None and person.may(Act.DRAFT),
    )
    return render(request, PAGE, view, status=UNREADABLE if fault else 200)


def moment_asked(at: str, now: datetime) -> tuple[datetime | None, str]:
    """The moment that was asked for, or what is accepted."""
    if not at.strip():
        return None, ""
    try:
        moment = datetime.fromisoformat(at.strip())
    except ValueError:
        return None, f"“{at[:40]}” is not accepted. Accepted: a day and a time, up to now."
    moment = moment if moment.tzinfo else moment.replace(tzinfo=now.tzinfo)
    if moment > now:
        return None, "It has not come yet. Accepted: a day and a time, up to now."
    return moment, ""


def versions_of(past: Past, fluid_id: str, now: datetime) -> Iterator[Version]:
    """Every entry that began to count up to now, the oldest first; one that said the same as the
    one before is left out.
    """
    before: Document | None = None
    started = False
    for moment, by in _began(past, fluid_id, now):
        after = past.documents(moment).get(fluid_id)
        if started and not differences(before, after):
            continue
        yield _version(moment, by, (before, after), now, is_first=not started)
        before, started = after, True


def _began(
    past: Past, fluid_id: str, now: datetime
) -> Iterator[tuple[datetime, FluidVersion | Filed]]:
    """Every moment at which the entry may have changed, with what changed it."""
    found: list[tuple[datetime, FluidVersion | Filed]] = [
        (one.from_at, one) for one in past.versions if one.fluid_id == fluid_id
    ]
    for filed in past.history.about(f"fluid:{fluid_id}"):
        if filed.counts_from is not None:
            found.append((filed.counts_from, filed))
    yield from sorted((one for one in found if one[0] <= now), key=lambda one: one[0])


def _version(
    moment: datetime,
    by: FluidVersion | Filed,
    two: tuple[Document | None, Document | None],
    now: datetime,
    *,
    is_first: bool,
) -> Version:
    before, after = two
    change = by.change if isinstance(by, Filed) else None
    return Version(
        since=moment_text(moment, now),
        at=moment.isoformat(),
        by=_by(by, now),
        why=change.reason if change else "",
        number=change.number if change else 0,
        differences=() if is_first else differences(before, after),
        is_first=is_first,
        gone=after is None,
    )


def _by(by: FluidVersion | Filed, now: datetime) -> str:
    if isinstance(by, FluidVersion):
        return f"release {by.release}" if by.release else "the release"
    approved = by.decided("approved")
    drafted = f"drafted by {signed_text(by.change.drafted, now)}"
    return f"{drafted}; approved by {signed_text(approved.signed, now)}" if approved else drafted


def at_moment(past: Past, fluid_id: str, moment: datetime, now: datetime) -> AtMoment:
    """The entry at a moment, in the order of an entry."""
    document = past.documents(moment).get(fluid_id)
    fields = tuple((name_of(field), text) for field, text in flat(document)) if document else ()
    return AtMoment(moment_text(moment, now), fields)
