"""Parts counted on every core of this machine.

Workers are started afresh (nothing of the server is copied into them). A worker that is killed
ends the whole pool; it is then started once more and what was under way is counted again.
"""

import os
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass, field
from multiprocessing import get_context
from typing import Final

from app.review.replay.compare import Terms
from app.review.replay.tally import Tally, merged
from app.review.replay.work import Part, count_prepared, prepare

# Enough that no worker waits, few enough that stopping is quick.
PARTS_AHEAD: Final = 3
# The parts of a pool that broke are counted again; a second time it is told instead.
STARTS_AGAIN: Final = 1
MERGED_AT_ONCE: Final = 32
LOOK_EVERY_S: Final = 0.5
LOST: Final = (
    "A worker process ended by itself (killed, or short of memory), and again after it was started"
    " anew. Nothing was kept. Start again with fewer workers or more memory."
)


class Stopped(Exception):
    """Somebody asked for it to be stopped."""


class WorkersLost(Exception):
    """Worker processes ended by themselves more often than is put up with."""

    def __str__(self) -> str:
        return LOST


@dataclass(frozen=True, slots=True)
class Job:
    """What is to be counted: both states of knowledge packed, and how."""

    packed: bytes
    terms: Terms


@dataclass(frozen=True, slots=True)
class Watch:
    """Who looks on. done: told after each part, of how many requests; stop: asked whether to."""

    done: Callable[[int], None] = lambda _requests: None
    stop: Callable[[], bool] = lambda: False


@dataclass(slots=True)
class Sum:
    """Tallies added up as they come, many at a time."""

    waiting: list[Tally] = field(default_factory=list)

    def add(self, tally: Tally) -> None:
        """One more."""
        self.waiting.append(tally)
        if len(self.waiting) >= MERGED_AT_ONCE:
            self.waiting = [merged(self.waiting)]

    @property
    def whole(self) -> Tally:
        """All so far."""
        return merged(self.waiting)


def cores() -> int:
    """How many processors this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def count_on_cores(
    job: Job, parts: Iterable[Part], watch: Watch, *, workers: int | None = None
) -> Tally:
    """Every part counted and added up. Raises Stopped, or WorkersLost."""
    run = _Run(job, iter(parts), watch, workers or cores())
    for _ in range(STARTS_AGAIN + 1):
        if run.to_the_end():
            return run.total.whole
    raise WorkersLost


@dataclass(slots=True)
class _Run:
    """One run. again: parts that were under way when the pool broke, to be counted first."""

    job: Job
    parts: Iterator[Part]
    watch: Watch
    workers: int
    total: Sum = field(default_factory=Sum)
    again: deque[Part] = field(default_factory=deque)
    under_way: dict["Future[Tally]", Part] = field(default_factory=dict)

    def to_the_end(self) -> bool:
        """True when all is counted; False when a worker was lost on the way."""
        pool = ProcessPoolExecutor(self.workers, get_context("spawn"), prepare, (self.job.packed,))
        try:
            self._fill(pool)
            while self.under_way:
                self._take()
                self._fill(pool)
        except BrokenProcessPool:
            self.again.extend(self.under_way.values())
            self.under_way.clear()
            return False
        finally:
            pool.shutdown(cancel_futures=True)
        return True

    def _fill(self, pool: ProcessPoolExecutor) -> None:
        while len(self.under_way) < self.workers * PARTS_AHEAD:
            part = self.again[0] if self.again else next(self.parts, None)
            if part is None:
                return
            if not self.again:
                self.again.append(part)  # so that it is not lost when the pool refuses it
            future = pool.submit(count_prepared, self.job.terms, part)
            self.under_way[future] = self.again.popleft()

    def _take(self) -> None:
        finished, _ = wait(self.under_way, LOOK_EVERY_S, FIRST_COMPLETED)
        if self.watch.stop():
            raise Stopped
        for future in finished:
            self.total.add(future.result())
            self.watch.done(len(self.under_way.pop(future)))
