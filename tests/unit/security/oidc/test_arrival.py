"""Somebody the house stands for, and their account here."""

from datetime import UTC, datetime

import pytest
from sqlalchemy import Engine

from app.security.acts import Role
from app.security.oidc.arrival import NotLetIn, account_for
from app.security.oidc.claims import Told
from app.security.oidc.house import House
from app.storage.database import reading, transaction
from app.storage.people.accounts import (
    NewAccount,
    add_account,
    all_accounts,
    end_account,
    read_account,
)

NOW = datetime(2026, 3, 4, 7, tzinfo=UTC)
AT = House(
    "https://house.example", "c", "https://r.example",
    {"ward": Role.NURSE, "pharmacy": Role.PHARMACIST},
)  # fmt: skip
ELSEWHERE = House("https://other.example", "c", "https://r.example", {"ward": Role.NURSE})
MIRA = Told("s-1", "Mira Tal", "mira", ("ward", "choir"))


def test_the_first_time_an_account_is_made_with_the_roles_of_the_groups(engine: Engine) -> None:
    with transaction(engine) as session:
        account = account_for(session, AT, MIRA, NOW)
    assert (account.name, account.sign_in, account.roles, account.how) == (
        "Mira Tal", "mira", {"nurse"}, "oidc",
    )  # fmt: skip


def test_the_next_time_it_is_the_same_account_with_the_roles_and_name_of_now(
    engine: Engine,
) -> None:
    with transaction(engine) as session:
        first = account_for(session, AT, MIRA, NOW)
        told = Told("s-1", "Mira Tal-Berg", "mira2", ("pharmacy",))
        later = account_for(session, AT, told, NOW)
    assert later.id == first.id
    with reading(engine) as session:
        kept = read_account(session, first.id)
    assert kept is not None
    assert (kept.name, kept.roles) == ("Mira Tal-Berg", {"pharmacist"})


def test_somebody_in_no_group_of_ours_gets_no_account(engine: Engine) -> None:
    with transaction(engine) as session, pytest.raises(NotLetIn, match="groups"):
        account_for(session, AT, Told("s-3", "Odd", "odd", ("choir",)), NOW)
    with reading(engine) as session:
        assert all_accounts(session) == ()


def test_roles_that_were_taken_away_are_gone_although_nobody_comes_in(engine: Engine) -> None:
    with transaction(engine) as session:
        account = account_for(session, AT, MIRA, NOW)
        with pytest.raises(NotLetIn):
            account_for(session, AT, Told("s-1", "Mira Tal", "mira", ()), NOW)
    with reading(engine) as session:
        kept = read_account(session, account.id)
    assert kept is not None and kept.roles == frozenset()


def test_an_account_that_was_ended_here_stays_ended(engine: Engine) -> None:
    with transaction(engine) as session:
        account = account_for(session, AT, MIRA, NOW)
        end_account(session, account.id, NOW)
        with pytest.raises(NotLetIn, match="ended"):
            account_for(session, AT, MIRA, NOW)


def test_a_local_account_of_the_same_name_is_not_taken_over(engine: Engine) -> None:
    with transaction(engine) as session:
        local = add_account(
            session, NewAccount("mira", "Mira L", frozenset({"administrator"})), NOW
        )
        account = account_for(session, AT, MIRA, NOW)
    assert account.id != local.id
    assert account.sign_in == "mira (2)"


def test_the_same_subject_at_another_provider_is_another_person(engine: Engine) -> None:
    with transaction(engine) as session:
        here = account_for(session, AT, MIRA, NOW)
        there = account_for(session, ELSEWHERE, MIRA, NOW)
    assert here.id != there.id
