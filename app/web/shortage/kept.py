"""Plans that a pharmacist keeps with a note, and each held against the same loss today."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Annotated, Any, Final
from urllib.parse import parse_qsl

from fastapi import APIRouter, Form, HTTPException, Request, Response
from fastapi.responses import HTMLResponse, RedirectResponse
from sqlalchemy.orm import Session

from app.catalogue.catalogue import Catalogue
from app.review.shortage.kept.comparing import differences
from app.review.shortage.kept.document import document_of
from app.review.shortage.loss import SIZE_MARK
from app.storage.audit.trail import record
from app.storage.database import reading, transaction
from app.storage.shortage.plans import KeptPlan, keep_plan, read_plan, read_plans
from app.web.render import SEE_OTHER, render
from app.web.shortage.difference_words import Said, difference_words
from app.web.shortage.page import TEMPLATE, UNREADABLE
from app.web.shortage.played import Played, page_of, play
from app.web.shortage.view import PAGE, WHOLE_PERCENT, address
from app.web.shortage.words import lost_name
from app.web.show import clock_and_day
from app.web.show import number as figure
from app.web.who import signed_in

router: Final = APIRouter(include_in_schema=False)
NOT_FOUND: Final = 404
LONGEST_NOTE: Final = 500
PLANS: Final = f"{PAGE}/plans"
NOTE_ACCEPTED: Final = f"why it is kept or what was decided, at most {LONGEST_NOTE} letters"
# A number that no table has is no number of a plan.
MOST: Final = 2**31


@dataclass(frozen=True, slots=True)
class PlanRow:
    """One kept plan in the list."""

    number: int
    lost: str
    at: str
    by: str
    note: str


@dataclass(frozen=True, slots=True)
class PlansPage:
    """The list, newest first."""

    rows: tuple[PlanRow, ...]


@dataclass(frozen=True, slots=True)
class KeptPage:
    """One plan with what is otherwise today. rehearsal: where the same loss is played today; why:
    why it cannot be played any more, empty where it can.
    """

    plan: PlanRow
    moment: str
    orders: int
    differences: tuple[Said, ...]
    rehearsal: str
    why: str


@router.post(PLANS)
def keep(
    request: Request,
    lost: Annotated[list[str] | None, Form()] = None,
    note: Annotated[str, Form()] = "",
    asked: Annotated[str, Form()] = "",
) -> Response:
    """Keep the plan of this loss as it is now, with a note. asked: the rest of its address."""
    given = {**{k: [v] for k, v in parse_qsl(asked)}, "lost": lost or []}
    words = " ".join(note.split())
    with transaction(request.app.state.engine) as session:
        played = play(request, session, given)
        if [fault.field for fault in played.asked.faults] == ["from"]:
            # Its beginning came while the note was written: the plan is kept as from now.
            played = play(request, session, {**given, "from": []})
        if played.rehearsal is None:
            return render(request, TEMPLATE, page_of(request, played), status=UNREADABLE)
        if not words or len(words) > LONGEST_NOTE:
            fault = f"Note: “{words}” is not accepted. Accepted: {NOTE_ACCEPTED}."
            return render(
                request, TEMPLATE, page_of(request, played, words, fault), status=UNREADABLE
            )
        number = _keep(request, session, played, words)
    return RedirectResponse(f"{PLANS}/{number}", SEE_OTHER)


def _keep(request: Request, session: Session, played: Played, note: str) -> int:
    person, now = signed_in(request), datetime.now(UTC)
    plan = KeptPlan(now, person.name, person.account_id, note, _document(played))
    number = keep_plan(session, plan)
    after = {"lost": plan.document["lost"], "share": plan.document["share"], "note": note}
    record(
        session, at=now, who=person.name, account_id=person.account_id,
        act="keep-shortage-plan", subject=f"plan:{number}", after=after,
    )  # fmt: skip
    return number


def _document(played: Played) -> dict[str, Any]:
    assert played.rehearsal is not None
    return document_of(
        played.rehearsal, at=played.shelf.now, version=played.knowledge.version
    )  # fmt: skip


@router.get(PLANS)
def plans(request: Request) -> HTMLResponse:
    """Every plan kept, newest first."""
    catalogue: Catalogue = request.app.state.knowledge.catalogue
    with reading(request.app.state.engine) as session:
        rows = tuple(_row(plan, catalogue) for plan in read_plans(session))
    return render(request, "shortage/plans.html", PlansPage(rows))


@router.get(f"{PLANS}/{{number}}")
def plan(request: Request, number: int) -> HTMLResponse:
    """One plan, and what is otherwise today."""
    with reading(request.app.state.engine) as session:
        kept = read_plan(session, number) if 0 < number < MOST else None
        if kept is None:
            raise HTTPException(NOT_FOUND, f"There is no kept plan {number}.")
        played = play(request, session, _given(kept.document))
    return render(request, "shortage/kept.html", _page(kept, played))


def _given(document: Mapping[str, Any]) -> dict[str, list[str]]:
    """The same loss from now on: its own beginning may be past."""
    flags = {"shelf": "shelf_too", "smaller": "smaller", "here": "told_only"}
    return {
        "lost": list(document["lost"]),
        "share": [figure(document["share"] * WHOLE_PERCENT, 2)],
        "days": [str(document["days"])],
        **{name: ["1"] for name, key in flags.items() if document[key]},
    }


def _page(kept: KeptPlan, played: Played) -> KeptPage:
    catalogue, where = played.knowledge.catalogue, ""
    said: tuple[Said, ...] = ()
    if played.rehearsal is not None:
        found = differences(kept.document, _document(played))
        beds = {key: one.bed for key, one in played.beds.items()}
        said = tuple(difference_words(one, catalogue, beds) for one in found)
        where = address(played.rehearsal.loss, played.shelf.now)
    why = "; ".join(f"{one.value}: {one.accepted}" for one in played.asked.faults)
    return KeptPage(
        plan=_row(kept, catalogue),
        moment=clock_and_day(played.shelf.now),
        orders=sum(one["standing"] == "affected" for one in kept.document["orders"]),
        differences=said,
        rehearsal=where,
        why=why,
    )


def _row(plan: KeptPlan, catalogue: Catalogue) -> PlanRow:
    return PlanRow(
        number=plan.number,
        lost="; ".join(_lost(key, catalogue) for key in plan.document["lost"]),
        at=clock_and_day(plan.at),
        by=plan.by,
        note=plan.note,
    )


def _lost(key: str, catalogue: Catalogue) -> str:
    fluid = catalogue.get(key.partition(SIZE_MARK)[0])
    return key if fluid is None else lost_name(key, fluid)
