"""Signing in by password, and what it leaves behind."""

from datetime import UTC, datetime, timedelta

import pytest
from argon2 import PasswordHasher
from sqlalchemy import Engine, text

from app.security import sign_in as module
from app.security.oidc.house import House
from app.security.passwords import hash_password, needs_new_hash
from app.security.sign_in import (
    NotSignedIn,
    SignedIn,
    Tried,
    may_use_password,
    sign_in_by_password,
    sign_in_person,
)
from app.security.standing import NOBODY, Standing, State, standing_of
from app.settings import Settings
from app.storage.database import reading, transaction
from app.storage.people.accounts import (
    Account,
    NewAccount,
    add_account,
    end_account,
    password_hash_of,
    set_password,
)
from app.storage.people.attempts import by_name, failures_of
from app.storage.people.sessions import lock, sessions_of

NOW = datetime(2026, 11, 25, 8, 0, tzinfo=UTC)
SETTINGS = Settings()
GOOD = "kettle on the blue stair"
HASHED = hash_password(GOOD)


def account(engine: Engine, sign_in: str = "ines", role: str = "nurse", **more: object) -> Account:
    new = NewAccount(sign_in, sign_in.title(), frozenset({role}), password_hash=HASHED, **more)  # type: ignore[arg-type]
    with transaction(engine) as session:
        return add_account(session, new, NOW)


def enter(  # noqa: PLR0913 - each may be left out
    engine: Engine,
    sign_in: str = "ines",
    password: str = GOOD,
    at: datetime = NOW,
    settings: Settings = SETTINGS,
    before: Standing = NOBODY,
) -> SignedIn:
    tried = Tried(sign_in, password, "192.0.2.7", before)
    return sign_in_by_password(engine, tried, settings, at)


def standing(engine: Engine, key: str, at: datetime = NOW) -> Standing:
    return standing_of(engine, key, SETTINGS, at, attended=False)


def test_the_right_password_opens_a_session_of_that_person(engine: Engine) -> None:
    ines = account(engine)
    signed = enter(engine, " INES ")
    assert signed.account == ines
    found = standing(engine, signed.key)
    assert found.state is State.OPEN
    assert found.person is not None
    assert found.person.account_id == ines.id


@pytest.mark.parametrize("password", ["", "wrong", GOOD + "x", GOOD.upper(), "x" * 5000])
def test_a_wrong_password_is_refused_without_a_word_of_why(engine: Engine, password: str) -> None:
    account(engine)
    with pytest.raises(NotSignedIn) as refused:
        enter(engine, password=password)
    assert refused.value == NotSignedIn(0)


def test_unknown_ended_and_outside_people_are_refused_alike_and_as_slowly(
    engine: Engine, monkeypatch: pytest.MonkeyPatch
) -> None:
    verified: list[str | None] = []
    real = module.is_right

    def seen(password: str, kept: str | None) -> bool:
        verified.append(kept)
        return real(password, kept)

    monkeypatch.setattr(module, "is_right", seen)
    gone = account(engine, "gone")
    account(engine, "demo", demo=True)
    with transaction(engine) as session:
        end_account(session, gone.id, NOW)
        add_account(session, NewAccount("away", "Away", frozenset({"nurse"}), how="oidc"), NOW)
    for name in ("nobody", "gone", "demo", "away"):
        with pytest.raises(NotSignedIn) as refused:
            enter(engine, name)
        assert refused.value == NotSignedIn(0)
    assert len(verified) == 4  # a hash was looked at each time


def test_many_wrong_tries_make_the_right_password_wait_too_and_then_it_comes_in(
    engine: Engine,
) -> None:
    account(engine)
    for _ in range(5):
        with pytest.raises(NotSignedIn):
            enter(engine, password="wrong")
    with pytest.raises(NotSignedIn) as refused:
        enter(engine)
    assert refused.value.wait_s == 2
    assert enter(engine, at=NOW + timedelta(seconds=2))
    with reading(engine) as session:
        assert failures_of(session, by_name("ines")) == 0


def test_an_older_hash_is_made_anew_when_its_password_was_right(engine: Engine) -> None:
    ines = account(engine)
    old = PasswordHasher(time_cost=1, memory_cost=8, parallelism=1).hash(GOOD)
    with transaction(engine) as session:
        set_password(session, ines.id, old, must_change=True)
    with pytest.raises(NotSignedIn):
        enter(engine, password="wrong")
    with reading(engine) as session:
        assert password_hash_of(session, ines.id) == old
    assert enter(engine).account.must_change
    with reading(engine) as session:
        assert not needs_new_hash(password_hash_of(session, ines.id) or "")
    assert enter(engine)


def test_the_same_person_goes_on_with_a_locked_session_under_a_new_key(engine: Engine) -> None:
    ines = account(engine)
    first = enter(engine)
    with transaction(engine) as session:
        lock(session, standing(engine, first.key).session_id, NOW)
    locked = standing(engine, first.key)
    second = enter(engine, before=locked)
    assert second.key != first.key
    assert standing(engine, second.key).session_id == locked.session_id
    assert standing(engine, first.key) is NOBODY
    with reading(engine) as session:
        assert len(sessions_of(session, ines.id)) == 1


def test_another_person_ends_the_locked_session_and_begins_their_own(engine: Engine) -> None:
    ines, _ = account(engine), account(engine, "tomas")
    first = enter(engine)
    with transaction(engine) as session:
        lock(session, standing(engine, first.key).session_id, NOW)
    second = enter(engine, "tomas", before=standing(engine, first.key))
    assert standing(engine, first.key).state is State.ENDED
    assert standing(engine, second.key).session_id != standing(engine, first.key).session_id
    with reading(engine) as session:
        assert sessions_of(session, ines.id)[0].ended_why == "somebody else signed in"


def test_signing_in_over_an_open_session_leaves_only_the_new_one(engine: Engine) -> None:
    ines = account(engine)
    first = enter(engine)
    enter(engine, before=standing(engine, first.key))
    with reading(engine) as session:
        newest, oldest = sessions_of(session, ines.id)
    assert newest.ended_at is None
    assert oldest.ended_why == "signed in anew"


def test_a_session_by_the_house_is_not_gone_on_with_by_password(engine: Engine) -> None:
    admin = account(engine, "keeper", "administrator")
    with transaction(engine) as session:
        key = sign_in_person(session, admin, via="oidc", now=NOW)
        lock(session, 1, NOW)
    before = standing(engine, key)
    assert before.state is State.LOCKED
    signed = enter(engine, "keeper", before=before)
    assert standing(engine, signed.key).session_id != before.session_id


def test_beside_the_house_only_administrators_use_a_password_and_it_is_told_aloud(
    engine: Engine,
) -> None:
    house = Settings(house=House("https://sign-in.example", "us", "https://ward.example", {}))
    nurse, keeper = account(engine), account(engine, "keeper", "administrator")
    assert not may_use_password(nurse, house)
    assert may_use_password(keeper, house)
    with pytest.raises(NotSignedIn):
        enter(engine, settings=house)
    assert enter(engine, "keeper", settings=house)
    with reading(engine) as session:
        rows = session.execute(text("SELECT act, account_id FROM trail_row")).all()
    assert [tuple(row) for row in rows] == [(module.PAST_THE_HOUSE, keeper.id)]


def test_an_everyday_signing_in_is_nobodys_business(engine: Engine) -> None:
    account(engine)
    enter(engine)
    with reading(engine) as session:
        assert session.execute(text("SELECT count(*) FROM trail_row")).scalar() == 0


@pytest.mark.parametrize("state", ["open", "locked"])
def test_a_stranger_who_tries_a_name_keeps_nobody_out_of_the_session_they_have(
    engine: Engine, state: str
) -> None:
    ines = account(engine)
    key = enter(engine).key
    here = standing(engine, key)
    if state == "locked":
        with transaction(engine) as session:
            lock(session, here.session_id, NOW)
        here = standing(engine, key)
    for _ in range(5):
        with pytest.raises(NotSignedIn):
            enter(engine, password="guessed")
    with pytest.raises(NotSignedIn) as waits:
        enter(engine)
    assert waits.value.wait_s > 0
    assert enter(engine, before=here).account == ines


def test_who_guesses_at_a_locked_desk_waits_as_for_a_name(engine: Engine) -> None:
    account(engine)
    key = enter(engine).key
    with transaction(engine) as session:
        lock(session, standing(engine, key).session_id, NOW)
    here = standing(engine, key)
    for _ in range(5):
        with pytest.raises(NotSignedIn) as refused:
            enter(engine, password="guessed", before=here)
        assert refused.value.wait_s == 0
    with pytest.raises(NotSignedIn) as refused:
        enter(engine, before=here)
    assert refused.value.wait_s > 0
    with pytest.raises(NotSignedIn) as refused:
        enter(engine, "tomas", "guessed", before=here)
    assert refused.value.wait_s == 0


def test_no_printed_form_tells_a_password_or_a_key(engine: Engine) -> None:
    ines = account(engine)
    key = enter(engine).key
    printed = (
        Tried("ines", GOOD, "192.0.2.7"),
        SignedIn(ines, key),
        Standing(State.OPEN, new_key=key),
        NewAccount("ines", "Ines", frozenset(), password_hash=HASHED),
    )
    for secret in (GOOD, key, HASHED):
        assert secret not in repr(printed)
