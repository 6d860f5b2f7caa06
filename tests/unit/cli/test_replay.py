"""`ringside replay` and what `ringside load` adds of the past."""

import json
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest
from sqlalchemy import Engine

from app.catalogue.changes.change import Change, LimitValue, Signature
from app.cli import main
from app.cli.replay import lines_of
from app.storage.changes.records import add_change
from app.storage.database import connect, migrate, transaction
from app.storage.past.load import load_invented
from app.storage.past.stories import FILE
from app.storage.replays.results import ReplayResult
from app.storage.seed import seed
from tests.conftest import LOADED

NOW = datetime(2026, 11, 25, 12, tzinfo=UTC)
UNTIL = datetime(2031, 3, 4, 7, 5, tzinfo=UTC)
RESULT = ReplayResult(
    7, 4, NOW, "B. Birch", 3480, 4367, 31.2, 53.6, 6.1, 6.0, 1219, 863, 13, 2, 5.0, "aaa", "bbb"
)


@pytest.fixture
def unit(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Engine:
    """A demo unit with a little past and one drafted limit."""
    url = f"sqlite:///{tmp_path / 'unit.db'}"
    for name, value in (("RINGSIDE_DATABASE_URL", url), ("RINGSIDE_DEMO", "1")):
        monkeypatch.setenv(name, value)
    engine = connect(url)
    migrate(engine)
    signed = Signature("a1", "R. Alder", True, NOW)
    content = LimitValue("ord-water-total", "excess_ml_kg_day", 30.5)
    change = Change(content, "too quiet", NOW + timedelta(days=1), date(2027, 1, 1), signed)
    with transaction(engine) as session:
        seed(session, now=LOADED, demo=True)
        add_change(session, change)
    return engine


@pytest.fixture
def past(unit: Engine, tmp_path: Path) -> None:
    text = FILE.read_text(encoding="utf-8").replace("requests_a_day = 116", "requests_a_day = 5")
    few = tmp_path / "past.toml"
    few.write_text(text, encoding="utf-8")
    with transaction(unit) as session:
        load_invented(session, UNTIL, few)


@pytest.mark.usefixtures("past")
def test_it_tells_the_numbers_and_whether_they_are_too_much(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["replay", "1", "--workers", "1", "--json"]) == 0
    numbers = json.loads(capsys.readouterr().out)
    assert (numbers["requests"], numbers["level"] > 0) == (150, True)
    monkeypatch.setenv("RINGSIDE_BURDEN_CAP", "0")
    assert main(["replay", "1", "--workers", "1"]) == 1
    told = capsys.readouterr()
    assert "approval needs a written reason" in told.out
    assert "150 requests" in told.out


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["replay", "99"], "There is no change 99"),
        (["replay", "1"], "no past orders"),
        (["replay", "1", "--workers", "0"], "at least 1"),
    ],
)
@pytest.mark.usefixtures("unit")
def test_what_cannot_be_run_is_told(
    arguments: list[str], told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(arguments) == 2
    assert told in capsys.readouterr().err


def test_a_cluster_that_is_not_there_is_told(
    past: None, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("app.review.replay.cluster.CONNECTS_WITHIN_S", 1)
    monkeypatch.setenv("RINGSIDE_DASK_ADDRESS", "tcp://127.0.0.1:9")
    assert main(["replay", "1"]) == 2
    assert "No cluster answers" in capsys.readouterr().err


def test_a_result_in_a_few_lines() -> None:
    assert lines_of(RESULT) == [
        "3,480 requests with 4,367 orders.",
        "Findings that would appear: 1,219; vanish: 863; change level: 13.",
        "At warning or above per 100 orders: 31.2 before, 53.6 after.",
        "Critical per 100 orders: 6.1 before, 6.0 after.",
        "Requests that could no longer be read: 2.",
        "This is over the cap of 5: approval needs a written reason.",
    ]


@pytest.mark.usefixtures("unit")
def test_the_demos_past_is_loaded_once(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["load"]) == 0
    assert "Past orders: 3,480 requests added" in capsys.readouterr().out
    assert main(["load"]) == 0
    assert "Past orders" not in capsys.readouterr().out


def test_criticals_that_would_be_lost_are_told_where_burden_falls() -> None:
    told = lines_of(replace(RESULT, critical_lost=3))
    assert (
        "Critical findings that would fall silent or be said more quietly: 3. "
        "Approval needs a written reason."
    ) in told
