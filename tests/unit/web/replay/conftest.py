"""A unit of one's own with a little past, a drafted limit, and a change already run."""

from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest
from fastapi import FastAPI
from sqlalchemy import Engine

from app.catalogue.changes.change import Change, LimitValue, Signature
from app.review.replay.asked import change_of, terms_of_replay, with_change
from app.review.replay.running import Plan, Where, run
from app.storage.changes.records import add_change
from app.storage.database import transaction
from app.storage.past.load import load_invented
from app.storage.past.stories import FILE
from app.storage.replays import jobs

UNTIL = datetime(2031, 3, 4, 7, 5, tzinfo=UTC)


def now() -> datetime:
    """The server's own moment: a run must not seem silent since long ago."""
    return datetime.now(UTC)  # noqa: TID251 - pages read the real clock


@pytest.fixture
def few(tmp_path: Path) -> Path:
    """The stories, of fewer people."""
    text = FILE.read_text(encoding="utf-8").replace("requests_a_day = 116", "requests_a_day = 10")
    path = tmp_path / "past.toml"
    path.write_text(text, encoding="utf-8")
    return path


@pytest.fixture
def change_id(own_app: FastAPI, few: Path) -> int:
    """A drafted limit on a unit that has a past."""
    at = now()
    signed = Signature("a1", "R. Alder", True, at)
    content = LimitValue("ord-water-total", "excess_ml_kg_day", 30.5)
    change = Change(content, "too quiet", at + timedelta(days=1), date(2027, 1, 1), signed)
    with transaction(own_app.state.engine) as session:
        load_invented(session, UNTIL, few)
        return add_change(session, change)


def run_change(engine: Engine, number: int, cap: float = 5.0) -> int:
    """The change run on its past, in this test's own time."""
    with transaction(engine) as session:
        change = change_of(session, number)
        assert change is not None
        two, terms = with_change(session, change, now()), terms_of_replay(session, "seed")
        run_id = jobs.ask(session, jobs.Asked(now(), "B. Birch", "a2", "seed", number))
    run(Plan(engine, run_id, two, terms, cap, Where(workers=1)), now)
    return run_id


@pytest.fixture
def over(own_app: FastAPI, change_id: int) -> int:
    """The same, run and over."""
    run_change(own_app.state.engine, change_id)
    return change_id
