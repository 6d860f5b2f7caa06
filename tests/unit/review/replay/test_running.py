"""A run from asked for to over."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta

import pytest
from sqlalchemy import Engine

from app.review.knowledge import Knowledge
from app.review.replay import running
from app.review.replay.answer import Past
from app.review.replay.asked import Two
from app.review.replay.compare import Terms, compare
from app.review.replay.running import Plan, Where, run, start
from app.review.replay.tally import Tally
from app.storage.audit.reading import read_head
from app.storage.database import reading, transaction
from app.storage.past.past import keep_past
from app.storage.replays import jobs
from app.storage.replays.jobs import Asked, Run
from app.storage.replays.results import newest_replay
from tests.unit.review.replay.conftest import WithLimit

NOW = datetime(2026, 11, 25, 12, tzinfo=UTC)


def clock() -> datetime:
    return NOW


@pytest.fixture
def two(known: Knowledge, with_limit: WithLimit) -> Two:
    return Two(known, with_limit("ord-water-total", "excess_ml_kg_day", 26))


@pytest.fixture
def plan(engine: Engine, two: Two, month: tuple[Past, ...]) -> Iterator[Plan]:
    """A run asked for over a hundred and eighty past requests."""
    with transaction(engine) as session:
        keep_past(session, ((past.at, past.request) for past in month))
        run_id = jobs.ask(session, Asked(NOW, "R. Alder", "a1", "seed", change_id=4))
    return Plan(engine, run_id, two, Terms(seed="seed"), 5.0, Where(workers=1))


def stands(plan: Plan, at: datetime = NOW) -> Run:
    with reading(plan.engine) as session:
        found = jobs.read_run(session, plan.run_id, at)
    assert found is not None
    return found


def test_what_came_out_is_kept_with_the_versions_compared(
    plan: Plan, two: Two, month: tuple[Past, ...]
) -> None:
    run(plan, clock)
    over = stands(plan)
    assert (over.state, over.done <= over.total, over.total) == ("finished", True, len(month))
    assert over.versions == two.versions
    with reading(plan.engine) as session:
        document = jobs.read_result(session, plan.run_id)
        result = newest_replay(session, 4)
        head = read_head(session)
    assert document is not None
    kept, expected = Tally.from_document(document), compare(two.before, two.after, month)
    assert kept.changes == expected.changes
    assert kept.before == expected.before
    assert result is not None
    assert result.level == sum(expected.changes.values())
    assert result.burden_after == expected.after.burden()
    assert head is not None
    assert head.count == 1  # the trail of acts knows of it


def test_a_run_that_was_stopped_says_so_and_keeps_nothing(plan: Plan) -> None:
    with transaction(plan.engine) as session:
        jobs.ask_to_stop(session, plan.run_id)
    ticking = iter(NOW + timedelta(seconds=n) for n in range(10_000))
    run(plan, lambda: next(ticking))
    over = stands(plan)
    assert over.state == "cancelled"
    assert "Nothing was kept" in over.message
    with reading(plan.engine) as session:
        assert jobs.read_result(session, plan.run_id) is None
        assert newest_replay(session, 4) is None


def test_a_cluster_that_is_not_there_fails_in_words(
    plan: Plan, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("app.review.replay.cluster.CONNECTS_WITHIN_S", 1)
    gone = Where(cluster="tcp://127.0.0.1:9")
    run(Plan(plan.engine, plan.run_id, plan.two, plan.terms, 5.0, gone), clock)
    over = stands(plan)
    assert over.state == "failed"
    assert "No cluster answers at tcp://127.0.0.1:9" in over.message


def test_what_nobody_foresaw_is_told_without_a_word_of_any_patient(
    plan: Plan, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object, **__: object) -> Tally:
        raise KeyError("Mrs Alder, bed 7")

    monkeypatch.setattr(running, "count_on_cores", broken)
    run(plan, clock)
    over = stands(plan)
    assert over.state == "failed"
    assert "KeyError" in over.message
    assert "Alder" not in over.message


def test_a_run_waits_for_the_one_before_it(plan: Plan) -> None:
    with transaction(plan.engine) as session:
        second = jobs.ask(session, Asked(NOW, "B. Birch", "a2", "seed", change_id=5))
    later = Plan(plan.engine, second, plan.two, plan.terms, 5.0, plan.where)
    thread = start(later, clock)
    thread.join(0.5)
    assert thread.is_alive()
    with transaction(plan.engine) as session:
        jobs.end(session, plan.run_id, NOW, "cancelled", "")
    thread.join(60)
    assert stands(later).state == "finished"


def test_a_process_that_is_gone_leaves_a_run_interrupted(plan: Plan) -> None:
    assert stands(plan, NOW + timedelta(seconds=29)).state == "queued"
    late = stands(plan, NOW + timedelta(seconds=31))
    assert late.state == "interrupted"
    assert "run it again" in late.message


def test_where_it_runs_is_said() -> None:
    assert Where("tcp://here").words == "a cluster"
    assert Where(workers=1).words == "1 core of this machine"
    assert Where(workers=3).words == "3 cores of this machine"
    assert "this machine" in Where().words
