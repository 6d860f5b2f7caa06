"""A run from asked for to over: read, counted elsewhere, told how far, and kept.

Each run beats: its process writes a sign of life every second or so, by which everyone sees that
it runs, how far it is, and whether it was stopped.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from threading import Event, Thread
from typing import Final

from sqlalchemy import Engine

from app.review.replay.asked import Two
from app.review.replay.cluster import ClusterUnfit, count_on_cluster
from app.review.replay.compare import Terms
from app.review.replay.numbers import numbers_of
from app.review.replay.packed import pack
from app.review.replay.pool import Job, Stopped, Watch, WorkersLost, cores, count_on_cores
from app.review.replay.tally import Tally
from app.review.replay.work import parts_of
from app.storage.audit.trail import record
from app.storage.database import reading, transaction
from app.storage.past.past import held_past, raw_past
from app.storage.replays import jobs

Clock = Callable[[], datetime]
REQUESTS_A_PART: Final = 100
BEAT_EVERY: Final = timedelta(seconds=0.8)
WAITS_S: Final = 1.0
TOLD: Final = (WorkersLost, ClusterUnfit)
UNTOLD: Final = (
    "It failed in a way nobody foresaw ({kind}). Nothing was kept. Tell who runs the server."
)


@dataclass(frozen=True, slots=True)
class Where:
    """Where it is counted. cluster: a Dask scheduler's address, empty for this machine's cores;
    workers: how many processes, None for one a core.
    """

    cluster: str = ""
    workers: int | None = None

    @property
    def words(self) -> str:
        """In words."""
        if self.cluster:
            return "a cluster"
        number = self.workers or cores()
        return "1 core of this machine" if number == 1 else f"{number} cores of this machine"


@dataclass(frozen=True, slots=True)
class Plan:
    """All that a run needs. since: past orders from then on, None for all. cap: see numbers.py."""

    engine: Engine
    run_id: int
    two: Two
    terms: Terms
    cap: float
    where: Where = Where()
    since: datetime | None = None


def start(plan: Plan, clock: Clock) -> Thread:
    """Run it beside the server's own work; it ends with the server."""
    thread = Thread(target=run, args=(plan, clock), name=f"replay-{plan.run_id}", daemon=True)
    thread.start()
    return thread


def run(plan: Plan, clock: Clock) -> None:
    """Run it to its end, whatever that is; the row says which. Raises nothing."""
    try:
        beats = _Beats(plan, clock)
        beats.wait_for_others()
        _keep(plan, _count(plan, beats), clock, beats.began)
    except Stopped:
        _end(plan, clock, "cancelled", "Stopped by a person. Nothing was kept.")
    except TOLD as wrong:
        _end(plan, clock, "failed", str(wrong))
    except Exception as wrong:  # a thread has nobody to raise to, and the row must not wait on
        _end(plan, clock, "failed", UNTOLD.format(kind=type(wrong).__name__))


def _count(plan: Plan, beats: "_Beats") -> Tally:
    job = Job(pack(plan.two.before, plan.two.after), plan.terms)
    with reading(plan.engine) as session:
        total = held_past(session, plan.since).requests
        beats.begin(total)
        parts = parts_of(raw_past(session, plan.since), REQUESTS_A_PART)
        watch = Watch(beats.done, beats.stop)
        if plan.where.cluster:
            return count_on_cluster(job, parts, watch, address=plan.where.cluster)
        return count_on_cores(job, parts, watch, workers=plan.where.workers)


def _keep(plan: Plan, tally: Tally, clock: Clock, began: datetime) -> None:
    now = clock()
    seconds = (now - began).total_seconds()
    numbers = numbers_of(tally, plan.cap) | {"seconds": seconds, "where": plan.where.words}
    with transaction(plan.engine) as session:
        jobs.finish(session, plan.run_id, now, numbers, tally.as_document())
        asker = jobs.asker_of(session, plan.run_id)
        record(
            session, at=now, who=asker[0], account_id=asker[1], act="replay finished",
            subject=f"replay:{plan.run_id}", after=numbers,
        )  # fmt: skip


def _end(plan: Plan, clock: Clock, state: jobs.State, message: str) -> None:
    with transaction(plan.engine) as session:
        jobs.end(session, plan.run_id, clock(), state, message)


@dataclass(slots=True)
class _Beats:
    """The signs of life of one run."""

    plan: Plan
    clock: Clock
    requests: int = 0
    stopped: bool = False
    began: datetime = field(init=False)
    last: datetime = field(init=False)

    def __post_init__(self) -> None:
        self.began = self.last = self.clock()

    def wait_for_others(self) -> None:
        """One run at a time: those asked for earlier come first. Raises Stopped."""
        while self._others():
            if self._beat():
                raise Stopped
            Event().wait(WAITS_S)

    def begin(self, total: int) -> None:
        """It starts."""
        self.began = self.last = self.clock()
        with transaction(self.plan.engine) as session:
            versions = self.plan.two.versions
            jobs.begin(session, self.plan.run_id, self.began, total, versions)

    def done(self, requests: int) -> None:
        """So many more are done."""
        self.requests += requests

    def stop(self) -> bool:
        """Whether somebody asked for it to be stopped; asked often, and looked up seldom."""
        if self.clock() - self.last >= BEAT_EVERY:
            self.stopped = self._beat()
        return self.stopped

    def _beat(self) -> bool:
        self.last = self.clock()
        with transaction(self.plan.engine) as session:
            return jobs.beat(session, self.plan.run_id, self.last, self.requests)

    def _others(self) -> bool:
        with reading(self.plan.engine) as session:
            under_way = jobs.runs_under_way(session, self.clock())
        return any(run.id < self.plan.run_id for run in under_way)
