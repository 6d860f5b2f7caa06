"""Runs as rows."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest
from sqlalchemy import Engine

from app.storage.database import reading, transaction
from app.storage.replays import jobs
from app.storage.replays.jobs import Asked, Run

NOW = datetime(2026, 11, 25, 12, tzinfo=UTC)
ASKED = Asked(NOW, "R. Alder", "a1", "seed", change_id=4)


def asked(engine: Engine, ask: Asked = ASKED) -> int:
    with transaction(engine) as session:
        return jobs.ask(session, ask)


def stands(engine: Engine, run_id: int, at: datetime = NOW) -> Run:
    with reading(engine) as session:
        found = jobs.read_run(session, run_id, at)
    assert found is not None
    return found


def test_a_run_waits_then_runs_then_is_finished(engine: Engine) -> None:
    run_id = asked(engine)
    assert stands(engine, run_id).state == "queued"
    with transaction(engine) as session:
        jobs.begin(session, run_id, NOW, 200, {"before": {}, "after": {}})
        assert not jobs.beat(session, run_id, NOW, 50)
    running = stands(engine, run_id)
    assert (running.state, running.percent, running.is_under_way) == ("running", 25, True)
    with transaction(engine) as session:
        jobs.finish(session, run_id, NOW, {"orders": 3}, {"whole": 1})
    over = stands(engine, run_id)
    assert (over.state, over.numbers, over.is_under_way) == ("finished", {"orders": 3}, False)
    with reading(engine) as session:
        assert jobs.read_result(session, run_id) == {"whole": 1}
        assert jobs.asker_of(session, run_id) == ("R. Alder", "a1")


def test_what_is_over_is_never_written_again(engine: Engine) -> None:
    run_id = asked(engine)
    with transaction(engine) as session:
        jobs.finish(session, run_id, NOW, {"orders": 3}, {"whole": 1})
        jobs.end(session, run_id, NOW, "failed", "late")
        jobs.beat(session, run_id, NOW + timedelta(hours=1), 7)
        jobs.finish(session, run_id, NOW, {"orders": 9}, {"whole": 9})
    over = stands(engine, run_id)
    assert (over.state, over.numbers, over.done, over.message) == ("finished", {"orders": 3}, 0, "")


def test_whoever_runs_it_is_told_that_it_was_stopped(engine: Engine) -> None:
    run_id = asked(engine)
    with transaction(engine) as session:
        jobs.ask_to_stop(session, run_id)
        assert jobs.beat(session, run_id, NOW, 0)
    assert stands(engine, run_id).stop_asked


def test_a_silent_process_is_taken_for_gone(engine: Engine) -> None:
    run_id = asked(engine)
    late = NOW + jobs.SILENT_AT_MOST + timedelta(seconds=1)
    assert stands(engine, run_id, late).state == "interrupted"
    with reading(engine) as session:
        assert jobs.runs_under_way(session, late) == ()
        assert [run.id for run in jobs.runs_under_way(session, NOW)] == [run_id]


def test_a_finished_run_is_never_interrupted(engine: Engine) -> None:
    run_id = asked(engine)
    with transaction(engine) as session:
        jobs.finish(session, run_id, NOW, {}, {})
    assert stands(engine, run_id, NOW + timedelta(days=900)).state == "finished"


def test_the_newest_of_a_change_is_not_that_of_another(engine: Engine) -> None:
    first, other = asked(engine), asked(engine, replace(ASKED, change_id=5))
    second = asked(engine)
    with transaction(engine) as session:
        jobs.finish(session, first, NOW, {}, {})
    with reading(engine) as session:
        newest = jobs.newest_run(session, 4, NOW)
        finished = jobs.newest_run(session, 4, NOW, finished=True)
        assert newest is not None
        assert finished is not None
        assert (newest.id, finished.id) == (second, first)
        assert jobs.newest_run(session, jobs.OF_NO_CHANGE, NOW) is None
        fifth = jobs.newest_run(session, 5, NOW)
        assert fifth is not None
        assert fifth.id == other


@pytest.mark.parametrize(("done", "total", "percent"), [(0, 0, 0), (1, 3, 33), (3, 3, 100)])
def test_how_far_it_is_is_never_said_too_high(done: int, total: int, percent: int) -> None:
    run = Run(1, 4, "running", done, total, NOW, NOW, None, "", False, "", "")
    assert run.percent == percent


def test_there_is_no_run_of_a_number_nobody_gave(engine: Engine) -> None:
    with reading(engine) as session:
        assert jobs.read_run(session, 9, NOW) is None
        assert jobs.read_result(session, 9) is None
