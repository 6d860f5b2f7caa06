"""Parts counted by processes of this machine."""

import os
import signal
import time
from collections.abc import Iterator

import pytest

from app.review.knowledge import Knowledge
from app.review.replay import pool
from app.review.replay.answer import Past
from app.review.replay.compare import Terms, compare
from app.review.replay.packed import pack
from app.review.replay.pool import Job, Stopped, Sum, Watch, WorkersLost, cores, count_on_cores
from app.review.replay.tally import Tally
from app.review.replay.work import Part, parts_of
from tests.unit.review.replay.conftest import WithLimit
from tests.unit.review.replay.test_work import raw


@pytest.fixture(scope="module")
def job(known: Knowledge, with_limit: WithLimit) -> Job:
    return Job(pack(known, with_limit("ord-water-total", "excess_ml_kg_day", 26)), Terms())


@pytest.fixture(scope="module")
def expected(known: Knowledge, with_limit: WithLimit, month: tuple[Past, ...]) -> Tally:
    return compare(known, with_limit("ord-water-total", "excess_ml_kg_day", 26), month)


def parts(month: tuple[Past, ...], size: int = 20) -> Iterator[Part]:
    return parts_of(map(raw, month), size)


@pytest.mark.parametrize(("workers", "size"), [(1, 500), (2, 20)])
def test_the_answer_is_that_of_one_process(
    job: Job, expected: Tally, month: tuple[Past, ...], workers: int, size: int
) -> None:
    told: list[int] = []
    found = count_on_cores(job, parts(month, size), Watch(told.append), workers=workers)
    assert found == expected
    assert sum(told) == len(month)


def test_it_stops_when_asked(job: Job, month: tuple[Past, ...]) -> None:
    told: list[int] = []
    with pytest.raises(Stopped):
        count_on_cores(job, parts(month, 5), Watch(told.append, lambda: bool(told)), workers=1)
    assert sum(told) < len(month)


def children() -> list[int]:
    """Worker processes of this one, by what the system says of each."""
    found = []
    for entry in os.listdir("/proc"):
        if entry.isdigit():
            try:
                with open(f"/proc/{entry}/stat") as file:
                    text = file.read()
                with open(f"/proc/{entry}/cmdline") as file:
                    command = file.read()
            except OSError:
                continue
            is_child = text.rsplit(")", 1)[1].split()[1] == str(os.getpid())
            if is_child and "spawn_main" in command:
                found.append(int(entry))
    return found


class Killer:
    """Kills one worker after so many parts, so many times."""

    def __init__(self, times: int) -> None:
        self.left = times
        self.killed = 0

    def __call__(self, _requests: int) -> None:
        workers = children()
        if self.left and workers:
            self.left -= 1
            self.killed += 1
            os.kill(workers[0], signal.SIGKILL)
            time.sleep(0.2)


def test_a_killed_worker_is_replaced_and_nothing_is_counted_twice(
    job: Job, expected: Tally, month: tuple[Past, ...]
) -> None:
    killer = Killer(1)
    found = count_on_cores(job, parts(month, 10), Watch(killer), workers=2)
    assert killer.killed == 1
    assert found == expected


def test_workers_that_keep_dying_are_told_in_words(job: Job, month: tuple[Past, ...]) -> None:
    with pytest.raises(WorkersLost, match="Nothing was kept"):
        count_on_cores(job, parts(month, 10), Watch(Killer(99)), workers=2)


def test_no_orders_are_an_empty_tally(job: Job) -> None:
    assert count_on_cores(job, iter(()), Watch(), workers=1) == Tally()


def test_a_sum_of_many_is_that_of_all(expected: Tally) -> None:
    total = Sum()
    for _ in range(pool.MERGED_AT_ONCE + 3):
        total.add(expected)
    assert total.whole.before.requests == expected.before.requests * (pool.MERGED_AT_ONCE + 3)
    assert len(total.waiting) < pool.MERGED_AT_ONCE


def test_there_is_a_core() -> None:
    assert cores() >= 1
