"""A run over past orders as a page shows it: waiting, how far, over."""

from dataclasses import dataclass
from datetime import datetime
from typing import Final

from fastapi import HTTPException

from app.review.replay.running import Clock, Plan, Where, start
from app.settings import Settings
from app.storage.replays.jobs import Run
from app.web.show import clock

STATES: Final = {
    "queued": "Waiting for another run to end",
    "running": "Running",
    "finished": "Finished",
    "failed": "Failed",
    "cancelled": "Stopped",
    "interrupted": "Interrupted",
}
# A screen reader is told at each quarter, not at each second.
STEP_PERCENT: Final = 25
SEED_BYTES: Final = 8
MOST_NUMBER: Final = 2**31
NOT_FOUND: Final = 404
NO_PAST: Final = (
    "There are no past orders to run it on yet. They gather as the unit's beds are loaded."
)


@dataclass(frozen=True, slots=True)
class RunView:
    """One run. said: what a screen reader is told; step: when it is told anew."""

    id: int
    state: str
    words: str
    percent: int
    done: str
    total: str
    by: str
    at: str
    message: str
    is_under_way: bool
    is_stopping: bool
    said: str
    step: str


def run_view(run: Run | None, now: datetime) -> RunView | None:
    """The run at this moment; now: on the unit's own clock."""
    if run is None:
        return None
    words = STATES[run.state]
    step = run.percent // STEP_PERCENT * STEP_PERCENT
    far = f", {step}%" if run.state == "running" else ""
    return RunView(
        id=run.id,
        state=run.state,
        words=words,
        percent=run.percent,
        done=f"{run.done:,}",
        total=f"{run.total:,}",
        by=run.by,
        at=clock(run.asked_at.astimezone(now.tzinfo), now),
        message=run.message,
        is_under_way=run.is_under_way,
        is_stopping=run.stop_asked and run.is_under_way,
        said=f"{words}{far}",
        step=f"{run.state}-{step}",
    )


def where_of(settings: Settings) -> Where:
    """Where this server runs its replays."""
    return Where(settings.dask_address)


def start_run(plan: Plan, now: Clock) -> None:
    """Start it beside the server's own work."""
    start(plan, now)


def numbered(number: int) -> int:
    """A number that a database can be asked for. Raises 404 for any other."""
    if not 0 < number < MOST_NUMBER:
        raise HTTPException(NOT_FOUND, "There is nothing of this number.")
    return number
