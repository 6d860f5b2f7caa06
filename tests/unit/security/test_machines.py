"""Machine clients: what a bearer token opens."""

from datetime import UTC, datetime, timedelta

import pytest
from sqlalchemy import Engine, create_engine

from app.security.acts import Scope
from app.security.machines import Stopped, bearer_key, is_one_of, machine_of
from app.settings import Settings
from app.storage.database import transaction
from app.storage.people.tokens import all_tokens, end_token, make_token

NOW = datetime(2026, 11, 25, 8, 0, tzinfo=UTC)
SETTINGS = Settings(api_tokens=frozenset({"whole"}))
DAY = timedelta(days=1)


def made(engine: Engine, *parts: str) -> tuple[str, str]:
    with transaction(engine) as session:
        token, key = make_token(session, "record", parts, by="W", lasts=(NOW, NOW + DAY))
    return token.id, key


def test_a_token_opens_its_parts_and_says_which(engine: Engine) -> None:
    _, key = made(engine, "review", "rules")
    in_ = machine_of(engine, f"Bearer {key}", Scope.REVIEW, SETTINGS, NOW)
    assert in_.comes_in
    assert in_.name == "record"
    out = machine_of(engine, f"Bearer {key}", Scope.FHIR, SETTINGS, NOW)
    assert out.stopped is Stopped.OTHER_PART
    assert out.parts == {Scope.REVIEW, Scope.RULES}


def test_a_part_this_release_does_not_know_opens_nothing(engine: Engine) -> None:
    _, key = made(engine, "later-part")
    out = machine_of(engine, f"Bearer {key}", Scope.REVIEW, SETTINGS, NOW)
    assert (out.stopped, out.parts) == (Stopped.OTHER_PART, frozenset())


def test_an_expired_and_an_ended_token_say_so_and_are_not_used(engine: Engine) -> None:
    number, key = made(engine, "review")
    late = machine_of(engine, f"Bearer {key}", Scope.REVIEW, SETTINGS, NOW + DAY)
    assert late.stopped is Stopped.EXPIRED
    with transaction(engine) as session:
        end_token(session, number, NOW)
    assert machine_of(engine, f"Bearer {key}", Scope.REVIEW, SETTINGS, NOW).stopped is Stopped.ENDED
    with transaction(engine) as session:
        assert all_tokens(session)[0].used_at is None


def test_last_used_is_written_once_a_minute(engine: Engine) -> None:
    _, key = made(engine, "review")
    for seconds in (0, 30, 59):
        machine_of(
            engine, f"Bearer {key}", Scope.REVIEW, SETTINGS, NOW + timedelta(seconds=seconds)
        )
    with transaction(engine) as session:
        assert all_tokens(session)[0].used_at == NOW
    machine_of(engine, f"Bearer {key}", Scope.REVIEW, SETTINGS, NOW + timedelta(seconds=60))
    with transaction(engine) as session:
        assert all_tokens(session)[0].used_at == NOW + timedelta(seconds=60)


def test_a_token_of_the_environment_opens_every_part_whatever_the_database_does() -> None:
    nothing = create_engine("sqlite://")
    for part in Scope:
        assert machine_of(nothing, "Bearer whole", part, SETTINGS, NOW).comes_in
    out = machine_of(nothing, "Bearer other", Scope.REVIEW, SETTINGS, NOW)
    assert out.stopped is Stopped.UNKNOWN


@pytest.mark.parametrize(
    ("header", "key"),
    [
        ("Bearer abc", "abc"), ("bearer  abc ", "abc"), ("Basic abc", ""), ("", ""), ("Bearer", ""),
        ("Bearer " + "x" * 600, ""),
    ],
)  # fmt: skip
def test_a_key_is_read_from_a_bearer_header_alone(header: str, key: str) -> None:
    assert bearer_key(header) == key


def test_a_key_is_one_of_several_only_whole() -> None:
    assert is_one_of("b", ["a", "b"])
    assert not is_one_of("", ["a"])
    assert not is_one_of("ab", ["a", "b"])
    assert not is_one_of("a", [])
    assert is_one_of("\u00e4", ["\u00e4"])
