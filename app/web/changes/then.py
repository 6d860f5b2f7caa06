"""What counted at a moment of the past: for whoever asks what was known on a certain night."""

from dataclasses import dataclass
from datetime import datetime
from typing import Final

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from app.catalogue.changes.versions import local_entries
from app.cautions.registry import RULES
from app.review.knowledge import Past
from app.storage.database import reading
from app.web.changes.local import Local, local_of
from app.web.changes.signed import here
from app.web.changes.words import moment_text
from app.web.render import render

router: Final = APIRouter(include_in_schema=False)
UNREADABLE: Final = 422


@dataclass(frozen=True, slots=True)
class ThenPage:
    """What counted at a moment. typed: the moment as asked for. fault: why it is no moment."""

    typed: str
    fault: str
    at: str
    ruleset: str
    catalogue: str
    version: str
    fluids: int
    rules: int
    local: Local
    own_fluids: tuple[tuple[str, str, int], ...]


@router.get("/changes/then")
def then(request: Request, at: str = "") -> HTMLResponse:
    """What counted at a moment, in the unit's own time; without one, now."""
    with reading(request.app.state.engine) as session:
        past, now = Past.of(session), here(session)
    moment = _moment(at, now)
    fault = "" if moment else f"“{at}” is not accepted. Accepted: a moment up to now."
    view = then_page(past, moment or now, now, typed=at, fault=fault)
    return render(request, "changes/then.html", view, status=UNREADABLE if fault else 200)


def then_page(past: Past, at: datetime, now: datetime, typed: str, fault: str = "") -> ThenPage:
    """The page of one moment."""
    known = past.at(at)
    local = local_of(Past(past.versions, past.history.as_of(at), past.words), known, at)
    own = local_entries(past.history, at)
    held = {fluid.id: fluid.name for fluid in known.catalogue}
    return ThenPage(
        typed=typed or f"{at:%Y-%m-%dT%H:%M}",
        fault=fault,
        at=moment_text(at, now),
        ruleset=known.ruleset.version,
        catalogue=known.catalogue.version,
        version=known.version,
        fluids=len(known.catalogue),
        rules=sum(rule.status == "active" for rule in RULES) - len(known.ruleset.switched_off),
        local=local,
        own_fluids=tuple(
            (key, held.get(key, f"{key}: taken out"), filed.change.number)
            for key, filed in own.items()
        ),
    )


def _moment(written: str, now: datetime) -> datetime | None:
    """The moment asked for, in the unit's zone; None for what is none, or lies ahead."""
    if not written:
        return now
    try:
        moment = datetime.fromisoformat(written)
        local = moment if moment.tzinfo else moment.replace(tzinfo=now.tzinfo)
        return local.astimezone(now.tzinfo) if local <= now else None
    except (ValueError, OverflowError):  # the first day of all may have no name in this zone
        return None
