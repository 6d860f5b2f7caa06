"""What approval asks of a replay."""

from dataclasses import replace
from datetime import UTC, datetime

import pytest
from sqlalchemy import Engine

from app.storage.database import reading, transaction
from app.storage.replays import jobs
from app.storage.replays.jobs import Asked
from app.storage.replays.results import ReplayResult, newest_replay

NOW = datetime(2026, 11, 25, 12, tzinfo=UTC)
NUMBERS = {
    "requests": 10, "orders": 20, "burden_before": 30.0, "burden_after": 36.0,
    "critical_before": 5.0, "critical_after": 5.0, "appear": 3, "vanish": 1, "level": 0,
    "newly_unread": 0, "cap": 5.0, "seconds": 1.0, "where": "2 cores of this machine",
}  # fmt: skip
VERSIONS = {"before": {"knowledge": "aaa"}, "after": {"knowledge": "bbb"}}


def finished(engine: Engine, change_id: int, **numbers: float | None) -> int:
    with transaction(engine) as session:
        run_id = jobs.ask(session, Asked(NOW, "R. Alder", "a1", "s", change_id))
        jobs.begin(session, run_id, NOW, 10, VERSIONS)
        jobs.finish(session, run_id, NOW, {**NUMBERS, **numbers}, {})
        return run_id


def test_the_newest_that_came_to_its_end_counts(engine: Engine) -> None:
    finished(engine, 4)
    second = finished(engine, 4, appear=8, critical_lost=2)
    with transaction(engine) as session:
        jobs.ask(session, Asked(NOW, "R. Alder", "a1", "s", 4))
        result = newest_replay(session, 4)
    assert result is not None
    assert (result.id, result.appear, result.before, result.after) == (second, 8, "aaa", "bbb")
    assert (result.rise, result.over_cap, result.critical_lost) == (6, True, 2)


def test_without_one_there_is_none(engine: Engine) -> None:
    finished(engine, 4)
    with reading(engine) as session:
        assert newest_replay(session, 5) is None


@pytest.mark.parametrize(
    ("before", "after", "cap", "over"),
    [
        (30.0, 35.0, 5.0, False),
        (30.0, 35.01, 5.0, True),
        (30.0, 12.0, 0.0, False),
        (0.1 + 0.2, 0.3 + 5, 5.0, False),
        (None, None, 5.0, False),
        (30.0, 30.1, 0.0, True),
    ],
)
def test_over_the_cap_is_a_rise_by_more(
    before: float | None, after: float | None, cap: float, over: bool
) -> None:
    result = ReplayResult(
        1, 4, NOW, "R. Alder", 10, 20, 30.0, 36.0, 5.0, 5.0, 3, 1, 0, 0, 5.0, "aaa", "bbb"
    )
    assert replace(result, burden_before=before, burden_after=after, cap=cap).over_cap is over
