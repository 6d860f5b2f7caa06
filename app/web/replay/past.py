"""One past order with both answers: as things are, and with the change."""

from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Final
from zoneinfo import ZoneInfo

from fastapi import APIRouter, HTTPException, Request
from fastapi.responses import HTMLResponse

from app.catalogue.entry import EntryError
from app.review.replay.answer import Answer, AnswerRow, Past, RowKey
from app.review.replay.asked import Two, change_of, with_change
from app.review.replay.twice import Twice
from app.storage.database import reading
from app.storage.past.past import PastOrder, read_past
from app.storage.patients import read_unit
from app.storage.replays.results import newest_replay
from app.web.changes.words import rule_title, title_of
from app.web.render import render
from app.web.replay.run import NOT_FOUND, numbered
from app.web.replay.situation import Situation, situation_of

router: Final = APIRouter(include_in_schema=False)
TAKEN_AWAY: Final = "There is no such past order (any more): retention takes them away by age."
SAME: Final = "as it is"


@dataclass(frozen=True, slots=True)
class Said:
    """One finding. news: what the change does to it, "as it is" where nothing."""

    rule_id: str
    title: str
    level: str
    summary: str
    orders: str
    news: str

    @property
    def is_news(self) -> bool:
        """True where the change does something to it."""
        return self.news != SAME


@dataclass(frozen=True, slots=True)
class PastPage:
    """Both answers. stale: what is compared here is not what the replay compared."""

    number: int
    past_id: int
    title: str
    situation: Situation
    before: tuple[Said, ...]
    after: tuple[Said, ...]
    before_fault: str
    after_fault: str
    stale: bool


@router.get("/changes/{number}/replay/past/{past_id}")
def past_order(request: Request, number: int, past_id: int) -> HTMLResponse:
    """The page of one past order."""
    with reading(request.app.state.engine) as session:
        change = change_of(session, numbered(number))
        found = read_past(session, numbered(past_id))
        unit, replay = read_unit(session), newest_replay(session, number)
        if change is None or found is None:
            raise HTTPException(NOT_FOUND, TAKEN_AWAY)
        try:
            two = with_change(session, change, datetime.now(UTC))
        except EntryError as fault:
            raise HTTPException(NOT_FOUND, f"The drafted entry cannot be read: {fault}") from fault
    past = in_zone(found, ZoneInfo(unit.zone) if unit else ZoneInfo("UTC"))
    stale = replay is None or replay.before != two.before.version
    title = title_of(change.content, two.before.catalogue)
    return render(request, "replay/past.html", past_page(number, title, past, two, stale=stale))


def in_zone(found: PastOrder, zone: ZoneInfo) -> Past:
    """A past order by the unit's own clock."""
    return Past(found.id, found.at.astimezone(zone), found.request, found.setting)


def past_page(number: int, title: str, past: Past, two: Two, *, stale: bool) -> PastPage:
    """Both answers to one past order, what differs marked on either side."""
    before, after = Twice.of(two.before, two.after).answers(past)
    situation = situation_of(past, two.before)
    return PastPage(
        number=number,
        past_id=past.id,
        title=title,
        situation=situation,
        before=_said(before, after, "vanishes"),
        after=_said(after, before, "appears"),
        before_fault="" if before.is_read else situation.fault,
        after_fault="" if after.is_read else "With the change this request cannot be read.",
        stale=stale,
    )


def _said(answer: Answer, other: Answer, alone: str) -> tuple[Said, ...]:
    there = {row.key: row for row in other.rows}
    return tuple(_one(row, there, alone) for row in answer.rows)


def _one(row: AnswerRow, there: dict[RowKey, AnswerRow], alone: str) -> Said:
    other = there.get(row.key)
    news = SAME
    if other is None:
        news = alone
    elif other.level != row.level:
        news = f"becomes {other.level}" if alone == "vanishes" else f"was {other.level}"
    title = rule_title(row.rule_id)
    return Said(row.rule_id, title, row.level, row.summary, ", ".join(row.order_ids), news)
