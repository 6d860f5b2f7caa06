"""Tokens of machines."""

from datetime import UTC, datetime, timedelta

from sqlalchemy import Engine

from app.storage.database import transaction
from app.storage.people.tokens import (
    Token,
    all_tokens,
    end_token,
    make_token,
    read_token,
    token_of,
    token_used,
)

NOW = datetime(2026, 11, 25, 8, 0, tzinfo=UTC)
DAY = timedelta(days=1)


def made(engine: Engine, name: str = "record", at: datetime = NOW) -> tuple[Token, str]:
    with transaction(engine) as session:
        return make_token(session, name, ["review", "rules"], by="Wanda", lasts=(at, at + DAY))


def test_a_key_leads_to_its_token_and_is_itself_not_kept(engine: Engine) -> None:
    token, key = made(engine)
    assert token_of(engine, key) == token
    assert token_of(engine, key[:-1]) is None
    with engine.connect() as connection:
        (row,) = connection.exec_driver_sql("SELECT * FROM machine_token").all()
    assert key not in map(str, row)


def test_a_token_opens_from_its_making_to_the_moment_it_expires() -> None:
    token = Token("t", "record", frozenset(), "Wanda", NOW, NOW + DAY)
    assert token.opens(NOW)
    assert token.opens(NOW + DAY - timedelta(seconds=1))
    assert not token.opens(NOW + DAY)


def test_an_ended_token_opens_nothing_and_its_first_end_stays(engine: Engine) -> None:
    token, key = made(engine)
    with transaction(engine) as session:
        token_used(session, token.id, NOW)
        end_token(session, token.id, NOW)
        end_token(session, token.id, NOW + DAY)
    found = token_of(engine, key)
    assert found is not None
    assert (found.used_at, found.ended_at) == (NOW, NOW)
    assert not found.opens(NOW)


def test_tokens_are_listed_the_newest_first(engine: Engine) -> None:
    first, _ = made(engine, "first")
    second, _ = made(engine, "second", NOW + DAY)
    with transaction(engine) as session:
        assert all_tokens(session) == (second, first)
        assert read_token(session, first.id) == first
        assert read_token(session, "t-none") is None
