"""What the house takes away ends here within a quarter of an hour."""

from datetime import UTC, datetime, timedelta

import pytest
from sqlalchemy import Engine

from app.security.acts import Role
from app.security.oidc import asking as module
from app.security.oidc.arrival import HOUSE, account_for
from app.security.oidc.asking import Asking, granted_of
from app.security.oidc.flow import begin, finish
from app.security.oidc.provider import Desk, OutOfReach
from app.security.sign_in import sign_in_person
from app.security.standing import Standing, State, standing_of
from app.settings import Settings
from app.storage.database import transaction
from tests.provider import Lies, Provider
from tests.unit.security.oidc.conftest import GoThere

SETTINGS = Settings(idle_minutes=240)


@pytest.fixture
def asking(desk: Desk) -> Asking:
    return Asking(desk, "a secret of this server")


@pytest.fixture
def signed_in_at(now_s: int) -> datetime:
    return datetime.fromtimestamp(now_s, UTC)


@pytest.fixture
def key(
    asking: Asking, engine: Engine, go_there: GoThere, now_s: int, signed_in_at: datetime
) -> str:
    """Mira, nurse, signed in by the house a moment ago."""
    begun = begin(asking.desk, now_s)
    stood = finish(asking.desk, begun, go_there(begun, "mira"), now_s)
    with transaction(engine) as session:
        account = account_for(session, asking.desk.house, stood.told, signed_in_at)
        granted = granted_of(stood, asking.secret)
        return sign_in_person(session, account, via=HOUSE, now=signed_in_at, granted=granted)


def after(engine: Engine, asking: Asking, key: str, at: datetime) -> Standing:
    """Where the session stands at a moment, as the door finds out."""
    standing = standing_of(engine, key, SETTINGS, at, attended=True)
    if not asking.is_due(standing, at):
        return standing
    asking.ask(engine, standing, at)
    return standing_of(engine, key, SETTINGS, at, attended=True)


def minutes(number: float) -> timedelta:
    return timedelta(minutes=number)


def test_for_ten_minutes_nobody_is_asked(
    asking: Asking, engine: Engine, key: str, provider: Provider, signed_in_at: datetime
) -> None:
    provider.asked.clear()
    assert after(engine, asking, key, signed_in_at + minutes(9.9)).state is State.OPEN
    assert provider.asked == []


def test_after_ten_the_house_is_asked_and_stands_for_ten_more(
    asking: Asking, engine: Engine, key: str, provider: Provider, signed_in_at: datetime
) -> None:
    at = signed_in_at + minutes(10)
    assert after(engine, asking, key, at).state is State.OPEN
    provider.asked.clear()
    assert after(engine, asking, key, at + minutes(9)).state is State.OPEN
    assert provider.asked == []


def test_a_role_taken_away_at_the_directory_is_gone(
    asking: Asking, engine: Engine, key: str, provider: Provider, signed_in_at: datetime
) -> None:
    provider.people["mira"].groups = ["pharmacy"]
    standing = after(engine, asking, key, signed_in_at + minutes(11))
    assert standing.person is not None
    assert standing.person.roles == {Role.PHARMACIST}
    assert standing.new_key, "the key changes with the roles"


def test_somebody_whose_last_role_was_taken_away_is_signed_out(
    asking: Asking, engine: Engine, key: str, provider: Provider, signed_in_at: datetime
) -> None:
    provider.people["mira"].groups = ["choir"]
    assert after(engine, asking, key, signed_in_at + minutes(11)).state is State.ENDED


def test_somebody_who_left_the_house_is_signed_out(
    asking: Asking, engine: Engine, key: str, provider: Provider, signed_in_at: datetime
) -> None:
    provider.people["mira"].here = False
    assert after(engine, asking, key, signed_in_at + minutes(11)).state is State.ENDED


def test_while_the_house_is_silent_a_session_lasts_a_quarter_of_an_hour(
    asking: Asking, engine: Engine, key: str, provider: Provider, signed_in_at: datetime
) -> None:
    provider.lies = Lies(fault=503)
    assert after(engine, asking, key, signed_in_at + minutes(14)).state is State.OPEN
    assert after(engine, asking, key, signed_in_at + minutes(15)).state is State.LOCKED


def test_a_silent_house_is_asked_once_in_half_a_minute_however_many_pages_are_opened(
    asking: Asking, engine: Engine, key: str, signed_in_at: datetime,
    monkeypatch: pytest.MonkeyPatch,
) -> None:  # fmt: skip
    tried: list[object] = []

    def silent(*asked: object) -> None:
        tried.append(asked)
        raise OutOfReach("nobody is there")

    monkeypatch.setattr(module, "ask_again", silent)
    at = signed_in_at + minutes(11)
    for second in range(0, 60, 5):
        assert after(engine, asking, key, at + timedelta(seconds=second)).state is State.OPEN
    assert len(tried) == 2
    monkeypatch.undo()
    assert after(engine, asking, key, at + timedelta(seconds=61)).confirmed_at is not None
    assert after(engine, asking, key, signed_in_at + minutes(16)).state is State.OPEN


def test_a_grant_that_cannot_be_read_is_no_grant(
    asking: Asking, engine: Engine, key: str, desk: Desk, signed_in_at: datetime
) -> None:
    other = Asking(desk, "the secret after a restart")
    assert after(engine, other, key, signed_in_at + minutes(14)).state is State.OPEN
    assert after(engine, other, key, signed_in_at + minutes(16)).state is State.LOCKED


def test_a_local_session_is_nobody_elses_business(asking: Asking, signed_in_at: datetime) -> None:
    assert not asking.is_due(Standing(State.NONE), signed_in_at)
