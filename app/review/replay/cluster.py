"""Parts counted on a Dask cluster: the optional extra `cluster`, imported only when asked for."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from importlib import import_module
from typing import Any, Final

from app.review.receipts.versions import program_version
from app.review.replay.pool import LOOK_EVERY_S, PARTS_AHEAD, Job, Stopped, Sum, Watch
from app.review.replay.tally import Tally
from app.review.replay.work import Part, count_part

CONNECTS_WITHIN_S: Final = 10
# How long a cluster may be without a single worker before it is told.
EMPTY_AT_MOST_S: Final = 30
NOT_INSTALLED: Final = (
    "RINGSIDE_DASK_ADDRESS is set, and the extra `cluster` is not installed. Install it"
    " (pip install 'ringside[cluster]'), or unset the address to use this machine's cores."
)


class ClusterUnfit(Exception):
    """The cluster cannot be used, in words that say what to do."""


def count_on_cluster(job: Job, parts: Iterable[Part], watch: Watch, *, address: str) -> Tally:
    """Every part counted and added up by a cluster of this release.

    Raises ClusterUnfit, or Stopped.
    """
    dask = _dask()
    client = _client(dask, address)
    try:
        _refuse_other_releases(client, address)
        knowledge = client.scatter(job.packed, broadcast=True)
        return _Run(dask, client, job, watch, knowledge).of(iter(parts))
    finally:
        client.close()


@dataclass(slots=True)
class _Run:
    """One run. knowledge: what was sent to every worker once."""

    dask: Any
    client: Any
    job: Job
    watch: Watch
    knowledge: Any
    total: Sum = field(default_factory=Sum)
    under_way: dict[Any, Part] = field(default_factory=dict)

    def of(self, parts: Iterator[Part]) -> Tally:
        """Count all the parts."""
        self._fill(parts)
        while self.under_way:
            self._take()
            self._fill(parts)
        return self.total.whole

    def _fill(self, parts: Iterator[Part]) -> None:
        threads = sum(self.client.nthreads().values())
        while len(self.under_way) < max(1, threads) * PARTS_AHEAD:
            part = next(parts, None)
            if part is None:
                return
            sent = (self.knowledge, self.job.terms, part)
            self.under_way[self.client.submit(count_part, *sent, pure=False)] = part

    def _take(self) -> None:
        for future in self._finished():
            try:
                tally: Tally = future.result()
            except self.dask.scheduler.KilledWorker as lost:
                raise ClusterUnfit(
                    "Workers of the cluster ended by themselves (killed, or short of memory) while"
                    " they counted one part. Nothing was kept."
                ) from lost
            self.total.add(tally)
            self.watch.done(len(self.under_way.pop(future)))

    def _finished(self) -> list[Any]:
        waited_s = 0.0
        while True:
            if self.watch.stop():
                self.client.cancel(list(self.under_way))
                raise Stopped
            done = [future for future in self.under_way if future.done()]
            if done:
                return done
            waited_s = 0.0 if self.client.nthreads() else waited_s + LOOK_EVERY_S
            if waited_s >= EMPTY_AT_MOST_S:
                raise ClusterUnfit("The cluster has lost all its workers. Nothing was kept.")
            self._wait()

    def _wait(self) -> None:
        try:
            with self.client.as_current():
                self.dask.wait(list(self.under_way), LOOK_EVERY_S, return_when="FIRST_COMPLETED")
        except TimeoutError:
            return


def release() -> str:
    """Of this process; a worker is asked for its own."""
    return program_version()


def _dask() -> Any:  # noqa: ANN401 - an optional library, loaded only here
    try:
        return import_module("distributed")
    except ImportError as missing:
        raise ClusterUnfit(NOT_INSTALLED) from missing


def _client(dask: Any, address: str) -> Any:  # noqa: ANN401 - an optional library
    try:
        return dask.Client(address, timeout=CONNECTS_WITHIN_S, set_as_default=False)
    except (OSError, ValueError) as silent:
        raise ClusterUnfit(
            f"No cluster answers at {address} (RINGSIDE_DASK_ADDRESS). Start it, correct the"
            " address, or unset it to use this machine's cores."
        ) from silent


def _refuse_other_releases(client: Any, address: str) -> None:  # noqa: ANN401
    """A worker with another program would give another answer, and nobody would know."""
    try:
        versions = set(client.run(program_version).values())
    except ImportError as missing:
        raise ClusterUnfit(f"Workers at {address} lack this program: {missing}.") from missing
    if not versions:
        raise ClusterUnfit(f"The cluster at {address} has no workers.")
    if versions != {release()}:
        raise ClusterUnfit(f"Workers at {address} run another release of this program.")
