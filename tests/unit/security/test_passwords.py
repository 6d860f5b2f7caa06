"""Which passwords are accepted, and how one is held against what is kept."""

import pytest
from argon2 import PasswordHasher

from app.security.passwords import (
    LONGEST,
    SHORTEST,
    PasswordRefused,
    accept,
    hash_password,
    is_right,
    needs_new_hash,
)

GOOD = "kettle on the blue stair"


def test_a_password_is_kept_as_argon2id_and_never_twice_alike() -> None:
    kept = hash_password(GOOD)
    assert kept.startswith("$argon2id$")
    assert GOOD not in kept
    assert kept != hash_password(GOOD)
    assert is_right(GOOD, kept)
    assert not is_right(GOOD + " ", kept)
    assert not needs_new_hash(kept)


def test_the_same_letters_from_another_keyboard_are_the_same_password() -> None:
    assert is_right("caf\u00e9 on the blue stair", hash_password("cafe\u0301 on the blue stair"))


@pytest.mark.parametrize("kept", [None, "", "not a hash"])
def test_where_nothing_is_kept_no_password_is_right(kept: str | None) -> None:
    assert not is_right("a password that opens nothing", kept)
    assert not is_right("", kept)


def test_an_older_hash_is_right_and_asks_to_be_made_anew() -> None:
    old = PasswordHasher(time_cost=1, memory_cost=8, parallelism=1).hash(GOOD)
    assert is_right(GOOD, old)
    assert needs_new_hash(old)


@pytest.mark.parametrize(
    "password",
    [
        GOOD,
        "a" * 7 + "bcdefghij",
        "äöü drei Tassen Tee",
        "password of my grandmother",
        "correct horse ate my stapler",
        "x" + " y" * 8 + " harbour",
        "w" * 20 + " and a boat " + "z" * 60,
    ],
)
def test_any_other_words_in_any_writing_are_accepted(password: str) -> None:
    assert accept(password, "ines", "Ines Vale") == password


@pytest.mark.parametrize("length", [0, 1, SHORTEST - 1])
def test_a_short_one_is_refused_with_what_is_accepted(length: int) -> None:
    with pytest.raises(PasswordRefused, match=f"at least {SHORTEST}"):
        accept("qx7!Lm29vbK0-z#"[:length])


def test_one_too_long_to_hash_is_refused() -> None:
    assert accept("harbour light " * 2 + "and a boat " * 15)
    with pytest.raises(PasswordRefused, match=f"at most {LONGEST}"):
        accept("harbour light and more " * 10)


@pytest.mark.parametrize(
    "password",
    [
        "passwordpassword",
        "Password12345678",
        "drowssapdrowssap",
        "123456789012345",
        "qwertyuiopasdfghjkl",
        "aaaaaaaaaaaaaaaa",
        "abcabcabcabcabcabc",
        "inesvale inesvale 2026",
        "Ines Vale Ines Vale!",
        "correct horse battery staple",
        "administrator123",
        "ringside-ringside",
        "   hospital ward 1   ",
    ],
)
def test_what_is_tried_first_is_refused(password: str) -> None:
    with pytest.raises(PasswordRefused, match="tried first"):
        accept(password, "ines", "Ines Vale")
