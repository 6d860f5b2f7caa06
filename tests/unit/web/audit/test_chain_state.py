"""The page says whether the chain is whole, how far that was looked at, and when."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from sqlalchemy import Engine, text
from starlette.datastructures import State

from app.settings import read_settings
from app.storage.audit.trail import record
from app.storage.database import connect, migrate, reading, transaction
from app.web.audit import chain_state as module
from app.web.audit.chain_state import ChainState, chain_state

NOW = datetime(2031, 3, 4, 7, 5, tzinfo=UTC)
LATER = NOW + timedelta(hours=1)
SECRET = "a secret of the ward's own"


@pytest.fixture
def sealing(tmp_path: Path) -> Iterator[Engine]:
    made = connect(f"sqlite:///{tmp_path / 'unit.db'}", secret=SECRET)
    migrate(made)
    tell(made, 5)
    yield made
    made.dispose()


@pytest.fixture
def state() -> State:
    return State({"settings": read_settings({"RINGSIDE_SECRET": SECRET})})


def tell(engine: Engine, times: int) -> None:
    with transaction(engine) as session:
        for _ in range(times):
            record(session, at=NOW, who="x", account_id="x", act="told stock", subject="stock:a")


def harm(engine: Engine, statement: str) -> None:
    with transaction(engine) as session:
        session.execute(text("DROP TRIGGER IF EXISTS trail_row_is_not_changed"))
        session.execute(text(statement))


def seen(state: State, engine: Engine, now: datetime = NOW, *, anew: bool = False) -> ChainState:
    with reading(engine) as session:
        return chain_state(state, session, now, anew=anew)


def test_a_whole_chain_is_told_with_its_length_and_moment(state: State, sealing: Engine) -> None:
    told = seen(state, sealing)
    assert told.standing == "whole"
    assert told.text == "Whole up to row 5, checked Tue 4 Mar 2031, 07:05 UTC."
    assert told.seal == "sealed up to row 5"


def test_an_edit_is_told_at_the_next_look(state: State, sealing: Engine) -> None:
    seen(state, sealing)
    harm(sealing, "UPDATE trail_row SET who = 'y' WHERE seq = 2")
    told = seen(state, sealing)
    assert told.standing == "not whole"
    assert told.faults == ("row 2 is not what its hash was made from",)


def test_a_long_trail_waits_until_somebody_asks(
    state: State, sealing: Engine, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(module, "MOST_AT_ONCE", 3)
    told = seen(state, sealing)
    assert (told.standing, told.text) == ("not checked", "5 rows were not checked here yet.")
    assert seen(state, sealing, anew=True).standing == "whole"


def test_a_long_trail_is_walked_on_from_where_it_was_walked(
    state: State, sealing: Engine, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(module, "MOST_AT_ONCE", 3)
    seen(state, sealing, anew=True)
    tell(sealing, 2)
    told = seen(state, sealing, LATER)
    assert told.standing == "whole"
    assert told.text == (
        "Whole up to row 7, checked Tue 4 Mar 2031, 08:05 UTC from row 6 on, and up to there "
        "Tue 4 Mar 2031, 07:05 UTC."
    )
    harm(sealing, "UPDATE trail_row SET who = 'y' WHERE seq = 7")
    assert seen(state, sealing, LATER).standing == "not whole"


def test_a_fault_of_a_long_trail_stands_until_it_is_walked_anew(
    state: State, sealing: Engine, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(module, "MOST_AT_ONCE", 3)
    harm(sealing, "UPDATE trail_row SET who = 'y' WHERE seq = 1")
    seen(state, sealing, anew=True)
    assert seen(state, sealing, LATER).standing == "not whole"
    tell(sealing, 9)
    told = seen(state, sealing, LATER)
    assert told.standing == "not checked"
    assert "up to row 5 they were checked" in told.text


def test_many_faults_are_counted(state: State, sealing: Engine) -> None:
    tell(sealing, 20)
    harm(sealing, "UPDATE trail_row SET who = 'y'")
    told = seen(state, sealing)
    assert (len(told.faults), told.more) == (module.MOST_TOLD, 15)
