"""Parts counted on a cluster: the same answer, to the digit, and clear words when it cannot."""

import logging
import subprocess
import sys
from collections.abc import Iterator
from typing import TYPE_CHECKING

import pytest

from app.review.knowledge import Knowledge
from app.review.replay import cluster
from app.review.replay.answer import Past
from app.review.replay.cluster import ClusterUnfit, count_on_cluster
from app.review.replay.compare import Terms, compare
from app.review.replay.packed import pack
from app.review.replay.pool import Job, Stopped, Watch
from app.review.replay.work import parts_of
from tests.unit.review.replay.test_work import raw

if TYPE_CHECKING:
    from distributed import LocalCluster

pytestmark = pytest.mark.filterwarnings("ignore::ResourceWarning")


@pytest.fixture(scope="module")
def local() -> Iterator["LocalCluster"]:
    """Two worker processes and a scheduler on this machine."""
    distributed = pytest.importorskip("distributed")
    with distributed.LocalCluster(
        n_workers=2, threads_per_worker=1, processes=True, dashboard_address=None,
        silence_logs=logging.CRITICAL,
    ) as made:  # fmt: skip
        yield made


def test_the_answer_is_that_of_one_process(
    local: "LocalCluster", known: Knowledge, without_saline: Knowledge, month: tuple[Past, ...]
) -> None:
    told: list[int] = []
    job = Job(pack(known, without_saline), Terms(seed="a", every_loud_row=True))
    parts = parts_of(map(raw, month), 20)
    found = count_on_cluster(job, parts, Watch(told.append), address=local.scheduler_address)
    assert found == compare(known, without_saline, month, job.terms)
    assert sum(told) == len(month)


def test_it_stops_when_asked(
    local: "LocalCluster", known: Knowledge, month: tuple[Past, ...]
) -> None:
    job, parts = Job(pack(known, known), Terms()), parts_of(map(raw, month), 5)
    with pytest.raises(Stopped):
        count_on_cluster(job, parts, Watch(stop=lambda: True), address=local.scheduler_address)


def test_a_cluster_of_another_release_is_refused(
    local: "LocalCluster", known: Knowledge, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(cluster, "release", lambda: "another")
    job = Job(pack(known, known), Terms())
    with pytest.raises(ClusterUnfit, match="another release"):
        count_on_cluster(job, iter(()), Watch(), address=local.scheduler_address)


def test_an_address_where_nobody_answers_is_told(
    known: Knowledge, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(cluster, "CONNECTS_WITHIN_S", 1)
    job = Job(pack(known, known), Terms())
    with pytest.raises(ClusterUnfit, match="RINGSIDE_DASK_ADDRESS"):
        count_on_cluster(job, iter(()), Watch(), address="tcp://127.0.0.1:9")


def test_the_extra_is_asked_for_by_name_when_it_is_missing(
    known: Knowledge, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "distributed", None)
    with pytest.raises(ClusterUnfit, match=r"ringside\[cluster\]"):
        count_on_cluster(Job(b"", Terms()), iter(()), Watch(), address="tcp://127.0.0.1:9")


def test_the_library_is_not_loaded_before_it_is_asked_for() -> None:
    code = "import sys, app.review.replay.running; sys.exit('distributed' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
