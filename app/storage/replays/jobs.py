"""Runs over past orders as rows: asked for, under way, over. One process writes each run."""

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from typing import Any, Final, Literal

from sqlalchemy import select, update
from sqlalchemy.orm import Session

from app.storage.replays.tables import ReplayRow
from app.storage.tables import Document

State = Literal["queued", "running", "finished", "failed", "cancelled", "interrupted"]
UNDER_WAY: Final = ("queued", "running")
# A process that runs one writes at least every few seconds; silent for this long, it is gone.
SILENT_AT_MOST: Final = timedelta(seconds=30)
OF_NO_CHANGE: Final = 0
INTERRUPTED: Final = (
    "The program that ran it was stopped or started again. Nothing was kept; run it again."
)


@dataclass(frozen=True, slots=True)
class Asked:
    """Who asks for a run, when, and for what. change_id: 0 counts what is said now."""

    at: datetime
    by: str
    account_id: str
    seed: str
    change_id: int = OF_NO_CHANGE


@dataclass(frozen=True, slots=True)
class Run:
    """One run as it stands. message: why it failed, or what to know of it."""

    id: int
    change_id: int
    state: State
    done: int
    total: int
    asked_at: datetime
    beat_at: datetime
    finished_at: datetime | None
    by: str
    stop_asked: bool
    seed: str
    message: str
    versions: Document = field(default_factory=dict)
    numbers: Document = field(default_factory=dict)

    @property
    def is_under_way(self) -> bool:
        """True while somebody waits for it."""
        return self.state in UNDER_WAY

    @property
    def percent(self) -> int:
        """How far it is; 0 before it is known how much there is to do."""
        return 100 * self.done // self.total if self.total else 0


COLUMNS: Final = (
    ReplayRow.id, ReplayRow.change_id, ReplayRow.state, ReplayRow.done, ReplayRow.total,
    ReplayRow.asked_at, ReplayRow.beat_at, ReplayRow.finished_at, ReplayRow.by,
    ReplayRow.stop_asked, ReplayRow.seed, ReplayRow.message, ReplayRow.versions,
    ReplayRow.numbers,
)  # fmt: skip


def ask(session: Session, asked: Asked) -> int:
    """Add a run that waits to be started; its number."""
    row = ReplayRow(
        change_id=asked.change_id, state="queued", done=0, total=0, asked_at=asked.at,
        beat_at=asked.at, finished_at=None, by=asked.by, account_id=asked.account_id,
        stop_asked=False, seed=asked.seed, message="", versions={}, numbers={}, result=None,
    )  # fmt: skip
    session.add(row)
    session.flush()
    return row.id


def read_run(session: Session, run_id: int, now: datetime) -> Run | None:
    """One run, or None."""
    row = session.execute(select(*COLUMNS).where(ReplayRow.id == run_id)).first()
    return None if row is None else as_it_stands(_run(row), now)


def newest_run(
    session: Session, change_id: int, now: datetime, *, finished: bool = False
) -> Run | None:
    """The newest run for a change (0: the newest count); finished: the newest that came to its
    end.
    """
    query = select(*COLUMNS).where(ReplayRow.change_id == change_id)
    if finished:
        query = query.where(ReplayRow.state == "finished")
    row = session.execute(query.order_by(ReplayRow.id.desc()).limit(1)).first()
    return None if row is None else as_it_stands(_run(row), now)


def runs_under_way(session: Session, now: datetime) -> tuple[Run, ...]:
    """Every run that waits or runs, oldest first, without those whose process is gone."""
    query = select(*COLUMNS).where(ReplayRow.state.in_(UNDER_WAY)).order_by(ReplayRow.id)
    runs = (as_it_stands(_run(row), now) for row in session.execute(query))
    return tuple(run for run in runs if run.is_under_way)


def as_it_stands(run: Run, now: datetime) -> Run:
    """The run, interrupted when its process has been silent for too long."""
    if not run.is_under_way or now - run.beat_at <= SILENT_AT_MOST:
        return run
    return replace(run, state="interrupted", message=INTERRUPTED)


def begin(session: Session, run_id: int, at: datetime, total: int, versions: Document) -> None:
    """The run has started."""
    _set(session, run_id, state="running", beat_at=at, total=total, versions=versions)


def beat(session: Session, run_id: int, at: datetime, done: int) -> bool:
    """A sign of life with how far it is; True when somebody asked for it to be stopped."""
    _set(session, run_id, beat_at=at, done=done)
    stop = session.scalar(select(ReplayRow.stop_asked).where(ReplayRow.id == run_id))
    return bool(stop)


def ask_to_stop(session: Session, run_id: int) -> None:
    """Ask for it to be stopped; its process does so at its next sign of life."""
    _set(session, run_id, stop_asked=True)


def finish(
    session: Session, run_id: int, at: datetime, numbers: Document, result: Document
) -> None:
    """The run has come to its end; what came out never changes."""
    _set(
        session, run_id, state="finished", beat_at=at, finished_at=at, numbers=numbers,
        result=result,
    )  # fmt: skip


def end(session: Session, run_id: int, at: datetime, state: State, message: str) -> None:
    """The run has ended before its end: failed, cancelled or interrupted."""
    _set(session, run_id, state=state, beat_at=at, finished_at=at, message=message)


def read_result(session: Session, run_id: int) -> Document | None:
    """All that came out of a run; None when it has not come to its end."""
    return session.scalar(select(ReplayRow.result).where(ReplayRow.id == run_id))


def asker_of(session: Session, run_id: int) -> tuple[str, str]:
    """Name and account of who asked for a run."""
    row = session.execute(
        select(ReplayRow.by, ReplayRow.account_id).where(ReplayRow.id == run_id)
    ).one()
    return row.by, row.account_id


def _run(row: Iterable[Any]) -> Run:
    return Run(*row)


def _set(session: Session, run_id: int, **values: object) -> None:
    # What is over is never written again, whatever a late process says.
    unfinished = ReplayRow.state.in_(UNDER_WAY)
    session.execute(update(ReplayRow).where(ReplayRow.id == run_id, unfinished).values(**values))
