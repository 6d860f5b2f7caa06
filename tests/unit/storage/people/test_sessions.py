"""Who is signed in where."""

from datetime import UTC, datetime, timedelta

import pytest
from sqlalchemy import Engine, event

from app.storage.database import reading, transaction
from app.storage.people.accounts import Account, NewAccount, add_account, set_roles
from app.storage.people.sessions import (
    begin_session,
    change_key,
    confirm,
    end_session,
    end_sessions_of,
    granted_to,
    held_by,
    lock,
    sessions_of,
    touch,
    unlock,
)

NOW = datetime(2026, 11, 25, 8, 0, tzinfo=UTC)
LATER = NOW + timedelta(minutes=5)


@pytest.fixture
def ines(engine: Engine) -> Account:
    with transaction(engine) as session:
        return add_account(session, NewAccount("ines", "Ines", frozenset({"nurse"})), NOW)


@pytest.fixture
def key(engine: Engine, ines: Account) -> str:
    with transaction(engine) as session:
        return begin_session(session, ines.id, via="local", now=NOW)


def test_a_key_leads_to_its_session_and_to_the_account_as_it_is_now(
    engine: Engine, ines: Account, key: str
) -> None:
    with transaction(engine) as session:
        set_roles(session, ines.id, ["pharmacist"])
    held = held_by(engine, key)
    assert held is not None
    assert (held.account_id, held.name, held.via) == (ines.id, "Ines", "local")
    assert held.roles == {"pharmacist"}
    assert held.roles_of_key == {"nurse"}
    assert held.begun_at == held.seen_at == NOW
    assert held_by(engine, key + "x") is None
    assert held_by(engine, "") is None


def test_looking_a_session_up_is_one_query_by_an_index(engine: Engine, key: str) -> None:
    asked: list[str] = []
    event.listen(engine, "before_cursor_execute", lambda *a: asked.append(a[2]))
    held_by(engine, key)
    selects = [one for one in asked if one.startswith("SELECT")]
    assert len(selects) == 1
    with engine.connect() as connection:
        plan = connection.exec_driver_sql(f"EXPLAIN QUERY PLAN {selects[0]}", ("x",))
        steps = [row[3] for row in plan]
    assert all(step.startswith("SEARCH") for step in steps), steps


def test_the_key_itself_is_nowhere_in_the_database(engine: Engine, key: str) -> None:
    with engine.connect() as connection:
        (row,) = connection.exec_driver_sql("SELECT * FROM signed_in").all()
    assert key not in map(str, row)


def test_a_lock_is_opened_by_a_new_key_alone(engine: Engine, key: str) -> None:
    held = held_by(engine, key)
    assert held is not None
    with transaction(engine) as session:
        lock(session, held.session_id, NOW)
    locked = held_by(engine, key)
    assert locked is not None
    assert locked.locked_at == NOW
    with transaction(engine) as session:
        fresh = unlock(session, held.session_id, LATER)
    assert held_by(engine, key) is None
    opened = held_by(engine, fresh)
    assert opened is not None
    assert (opened.locked_at, opened.seen_at, opened.begun_at) == (None, LATER, NOW)


def test_a_new_key_is_given_for_the_roles_of_the_moment(
    engine: Engine, ines: Account, key: str
) -> None:
    held = held_by(engine, key)
    assert held is not None
    with transaction(engine) as session:
        set_roles(session, ines.id, ["pharmacist"])
        fresh = change_key(session, held.session_id)
    after = held_by(engine, fresh)
    assert after is not None
    assert after.roles == after.roles_of_key == {"pharmacist"}
    assert after.session_id == held.session_id
    assert held_by(engine, key) is None


def test_the_first_reason_a_session_ended_for_stays(
    engine: Engine, ines: Account, key: str
) -> None:
    held = held_by(engine, key)
    assert held is not None
    with transaction(engine) as session:
        end_session(session, held.session_id, NOW, "signed out")
        end_session(session, held.session_id, LATER, "again")
        (sitting,) = sessions_of(session, ines.id)
    assert (sitting.ended_at, sitting.ended_why) == (NOW, "signed out")


def test_all_sessions_of_one_account_end_but_the_one_kept_and_nobody_elses(
    engine: Engine, ines: Account, key: str
) -> None:
    with transaction(engine) as session:
        tom = add_account(session, NewAccount("tom", "Tom", frozenset({"nurse"})), NOW)
        toms = begin_session(session, tom.id, via="local", now=NOW)
        second = begin_session(session, ines.id, via="local", now=LATER)
    kept = held_by(engine, second)
    assert kept is not None
    with transaction(engine) as session:
        end_sessions_of(session, ines.id, LATER, "password changed", but=kept.session_id)

    def ended(one: str) -> bool:
        held = held_by(engine, one)
        assert held is not None
        return held.ended_at is not None

    assert (ended(key), ended(second), ended(toms)) == (True, False, False)
    with transaction(engine) as session:
        end_sessions_of(session, ines.id, LATER, "everywhere")
        assert [one.ended_why for one in sessions_of(session, ines.id)] == [
            "everywhere",
            "password changed",
        ]


def test_somebody_who_was_there_is_seen(engine: Engine, ines: Account, key: str) -> None:
    held = held_by(engine, key)
    assert held is not None
    with transaction(engine) as session:
        touch(session, held.session_id, LATER)
    with reading(engine) as session:
        assert sessions_of(session, ines.id)[0].seen_at == LATER


def test_what_the_house_gave_is_kept_with_the_session(engine: Engine, key: str) -> None:
    held = held_by(engine, key)
    assert held is not None
    with transaction(engine) as session:
        assert granted_to(session, held.session_id) == {}
        confirm(session, held.session_id, LATER, {"refresh": "sealed"})
        assert granted_to(session, held.session_id) == {"refresh": "sealed"}
    after = held_by(engine, key)
    assert after is not None
    assert after.confirmed_at == LATER
