"""Who may sign in, and in which roles."""

from datetime import UTC, datetime

import pytest
from sqlalchemy import Engine

from app.storage.database import reading, transaction
from app.storage.people.accounts import (
    NameTaken,
    NewAccount,
    account_of_subject,
    add_account,
    all_accounts,
    any_account,
    as_signed,
    end_account,
    find_account,
    open_again,
    password_hash_of,
    read_account,
    set_name,
    set_password,
    set_roles,
)

NOW = datetime(2026, 11, 25, 8, 0, tzinfo=UTC)
INES = NewAccount("Ines", "Ines Vale", frozenset({"nurse"}), password_hash="kept")


def test_a_name_is_one_name_however_it_is_typed(engine: Engine) -> None:
    with transaction(engine) as session:
        made = add_account(session, INES, NOW)
        for typed in ("ines", " INES ", "\uff29nes"):
            assert find_account(session, typed) == made
        with pytest.raises(NameTaken, match="ines"):
            add_account(session, NewAccount("iNeS", "Another", frozenset({"nurse"})), NOW)
    assert as_signed("  Two   Words ") == "two words"


def test_nobody_is_found_by_a_name_or_subject_that_no_account_has(engine: Engine) -> None:
    with transaction(engine) as session:
        assert find_account(session, "nobody") is None
        assert read_account(session, "a-nobody") is None
        assert account_of_subject(session, "issuer|7") is None
        assert not any_account(session)
        elsewhere = NewAccount("tomas", "Tomas", frozenset(), how="oidc", subject="issuer|7")
        made = add_account(session, elsewhere, NOW)
        assert account_of_subject(session, "issuer|7") == made
        assert password_hash_of(session, made.id) is None


def test_what_is_changed_of_an_account_counts_at_once(engine: Engine) -> None:
    with transaction(engine) as session:
        made = add_account(session, INES, NOW)
        set_roles(session, made.id, ["pharmacist", "nurse", "nurse"])
        set_name(session, made.id, "Ines Vale-Roca")
        set_password(session, made.id, "other", must_change=True)
    with reading(engine) as session:
        found = read_account(session, made.id)
        assert found is not None
        assert found.roles == {"nurse", "pharmacist"}
        assert found.name == "Ines Vale-Roca"
        assert found.must_change
        assert password_hash_of(session, made.id) == "other"


def test_an_ended_account_stays_with_its_name_and_may_be_opened_again(engine: Engine) -> None:
    with transaction(engine) as session:
        ines = add_account(session, INES, NOW)
        adam = add_account(session, NewAccount("adam", "Adam", frozenset({"nurse"})), NOW)
        end_account(session, adam.id, NOW)
        assert [one.name for one in all_accounts(session)] == ["Ines Vale", "Adam"]
        assert any_account(session)
        end_account(session, ines.id, NOW)
        assert not any_account(session)
        open_again(session, adam.id)
        assert [one.active for one in all_accounts(session)] == [True, False]
