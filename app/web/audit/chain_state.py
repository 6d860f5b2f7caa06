"""Whether the trail is whole, checked as far as the making of a page may take."""

from dataclasses import dataclass
from datetime import datetime
from typing import Final, Literal

from sqlalchemy.orm import Session
from starlette.datastructures import State

from app.storage.audit.chain import key_of
from app.storage.audit.check import FROM_THE_FIRST, Upto, Verdict
from app.storage.audit.reading import check_trail, read_head
from app.web.show import clock_and_day

# So many rows are checked within a tenth of a second; more are checked when somebody asks.
MOST_AT_ONCE: Final = 10_000
MOST_TOLD: Final = 10

Standing = Literal["whole", "not whole", "not checked"]


@dataclass(frozen=True, slots=True)
class Checked:
    """The last walk from the first row on, and when it was made."""

    verdict: Verdict
    at: datetime


@dataclass(frozen=True, slots=True)
class ChainState:
    """What the page says of the chain. more: faults that are only counted."""

    standing: Standing
    text: str
    seal: str
    faults: tuple[str, ...]
    more: int


def chain_state(state: State, session: Session, now: datetime, *, anew: bool) -> ChainState:
    """The chain as it stands. anew: from the first row on, however many there are.

    A long trail that was walked before is walked on from there; one that was not, waits.
    """
    last: Checked | None = getattr(state, "trail_checked", None)
    key, head = key_of(state.settings.trail_secret), read_head(session)
    rows = head.count if head else 0
    if anew or rows <= MOST_AT_ONCE:
        verdict = check_trail(session, key)
        state.trail_checked = Checked(verdict, now)
        return _told(verdict, f"checked {clock_and_day(now)}.")
    start = last.verdict.upto if last else FROM_THE_FIRST
    if last is None or rows - start.rows > MOST_AT_ONCE:
        return _waiting(rows, last)
    if not last.verdict.whole:
        return _told(last.verdict, f"checked {clock_and_day(last.at)}.")
    return _told(check_trail(session, key, start=start), _since(start, last.at, now))


def _since(start: Upto, then: datetime, now: datetime) -> str:
    return (
        f"checked {clock_and_day(now)} from row {start.rows + 1:,} on, and up to there "
        f"{clock_and_day(then)}."
    )


def _told(verdict: Verdict, when: str) -> ChainState:
    rows = verdict.upto.rows
    text = f"Whole up to row {rows:,}" if verdict.whole else f"Not whole; {rows:,} rows looked at"
    faults = tuple(fault.text for fault in verdict.faults[:MOST_TOLD])
    more = verdict.more + len(verdict.faults) - len(faults)
    standing: Standing = "whole" if verdict.whole else "not whole"
    return ChainState(standing, f"{text}, {when}", verdict.sealed, faults, more)


def _waiting(rows: int, last: Checked | None) -> ChainState:
    then = (
        "were not checked here yet."
        if last is None
        else f"are there; up to row {last.verdict.upto.rows:,} they were checked "
        f"{clock_and_day(last.at)}."
    )
    return ChainState("not checked", f"{rows:,} rows {then}", "", (), 0)
