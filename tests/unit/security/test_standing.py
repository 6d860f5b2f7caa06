"""Where a browser stands: open, locked, ended, or nobody known."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest
from sqlalchemy import Engine, event

from app.security.acts import Role
from app.security.standing import NOBODY, Standing, State, seen_every, standing_of
from app.settings import Settings
from app.storage.database import transaction
from app.storage.people.accounts import Account, NewAccount, add_account, end_account, set_roles
from app.storage.people.sessions import begin_session, end_session, held_by, lock

NOW = datetime(2026, 11, 25, 8, 0, tzinfo=UTC)
SETTINGS = Settings()
MINUTE = timedelta(minutes=1)


@pytest.fixture
def ines(engine: Engine) -> Account:
    with transaction(engine) as session:
        return add_account(session, NewAccount("ines", "Ines", frozenset({"nurse"})), NOW)


@pytest.fixture
def key(engine: Engine, ines: Account) -> str:
    with transaction(engine) as session:
        return begin_session(session, ines.id, via="local", now=NOW)


def look(
    engine: Engine, key: str, at: datetime, settings: Settings = SETTINGS, attended: bool = True
) -> Standing:
    return standing_of(engine, key, settings, at, attended=attended)


def test_somebody_signed_in_is_present_with_the_roles_of_now(
    engine: Engine, ines: Account, key: str
) -> None:
    standing = look(engine, key, NOW)
    assert standing.state is State.OPEN
    assert standing.present is not None
    assert standing.present.roles == {Role.NURSE}
    assert standing.new_key == ""
    with transaction(engine) as session:
        set_roles(session, ines.id, ["pharmacist", "role of a later release"])
    changed = look(engine, key, NOW)
    assert changed.present is not None
    assert changed.present.roles == {Role.PHARMACIST}
    assert changed.new_key
    assert look(engine, key, NOW) is NOBODY
    assert look(engine, changed.new_key, NOW).new_key == ""


def test_a_key_nobody_gave_out_is_nobodys(engine: Engine, key: str) -> None:
    for other in ("", "x", key.upper(), key + "="):
        assert look(engine, other, NOW) is NOBODY


def test_without_a_touch_it_locks_and_the_person_is_known_but_not_present(
    engine: Engine, key: str
) -> None:
    just = NOW + timedelta(minutes=15) - timedelta(seconds=1)
    assert look(engine, key, just, attended=False).state is State.OPEN
    locked = look(engine, key, NOW + timedelta(minutes=15))
    assert locked.state is State.LOCKED
    assert locked.present is None
    assert locked.person is not None
    assert locked.person.name == "Ines"
    assert locked.sign_in == "ines"
    # Looking at a locked page does not open it.
    assert look(engine, key, NOW + timedelta(minutes=15)).state is State.LOCKED


def test_a_touch_keeps_it_open_and_what_the_page_asks_by_itself_does_not(
    engine: Engine, key: str
) -> None:
    for minute in range(0, 60, 10):
        assert look(engine, key, NOW + minute * MINUTE).state is State.OPEN
    for minute in range(51, 65):
        look(engine, key, NOW + minute * MINUTE, attended=False)
    assert look(engine, key, NOW + 65 * MINUTE).state is State.LOCKED


def test_that_somebody_is_there_is_written_seldom(engine: Engine, key: str) -> None:
    written: list[str] = []
    event.listen(
        engine, "before_cursor_execute",
        lambda *a: written.append(a[2]) if a[2].startswith("UPDATE") else None,
    )  # fmt: skip
    for seconds in range(0, 91, 3):
        look(engine, key, NOW + timedelta(seconds=seconds))
    assert len(written) == 3
    assert seen_every(Settings(idle_minutes=1)) == timedelta(seconds=6)


@pytest.mark.parametrize("settings", [Settings(session_hours=1), Settings(session_hours=0.5)])
def test_however_busy_it_ends_after_its_hours(engine: Engine, key: str, settings: Settings) -> None:
    minutes = int(settings.session_hours * 60)
    for minute in range(minutes):
        assert look(engine, key, NOW + minute * MINUTE, settings).state is State.OPEN
    ended = look(engine, key, NOW + minutes * MINUTE, settings)
    assert ended.state is State.ENDED
    assert ended.person is not None


def test_an_ended_session_and_an_ended_account_end_at_the_next_look(
    engine: Engine, ines: Account, key: str
) -> None:
    with transaction(engine) as session:
        other = begin_session(session, ines.id, via="local", now=NOW)
    held = held_by(engine, key)
    assert held is not None
    with transaction(engine) as session:
        end_session(session, held.session_id, NOW, "signed out")
    assert look(engine, key, NOW).state is State.ENDED
    assert look(engine, other, NOW).state is State.OPEN
    with transaction(engine) as session:
        end_account(session, ines.id, NOW)
    assert look(engine, other, NOW).state is State.ENDED


def test_ended_wins_over_locked(engine: Engine, ines: Account, key: str) -> None:
    held = held_by(engine, key)
    assert held is not None
    with transaction(engine) as session:
        lock(session, held.session_id, NOW)
    assert look(engine, key, NOW).state is State.LOCKED
    assert look(engine, key, NOW + timedelta(hours=12)).state is State.ENDED


def test_demo_people_stand_in_demo_mode_alone(engine: Engine) -> None:
    with transaction(engine) as session:
        demo = NewAccount("nurse", "Ines", frozenset({"nurse"}), demo=True)
        account = add_account(session, demo, NOW)
        key = begin_session(session, account.id, via="local", now=NOW)
    assert look(engine, key, NOW, replace(SETTINGS, demo=True)).state is State.OPEN
    assert look(engine, key, NOW).state is State.ENDED
