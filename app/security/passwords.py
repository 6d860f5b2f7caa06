"""Passwords: which are accepted, how they are kept, and how one is held against what is kept.

Rules by NIST SP 800-63B-4, 3.1.1.2: at least 15 characters when nothing else is asked for, no
composition rules, no changing by the calendar, and those that are tried first are refused.
"""

import unicodedata
from dataclasses import dataclass
from typing import Final

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError

SHORTEST: Final = 15
LONGEST: Final = 200
# Runs and words that long passwords are most often made of; whole, reversed or over and over.
COMMON: Final = (
    "0123456789", "1234567890", "abcdefghijklmnopqrstuvwxyz", "qwertyuiop", "qwertyuiopasdfghjkl",
    "qwertyuiopasdfghjklzxcvbnm", "asdfghjkl", "zxcvbnm", "1qaz2wsx3edc4rfv5tgb", "qazwsxedcrfv",
    "password", "passwort", "passphrase", "letmein", "welcome", "iloveyou", "monkey", "dragon",
    "sunshine", "princess", "football", "baseball", "superman", "batman", "trustno", "qwerty",
    "admin", "administrator", "hospital", "nurse", "doctor", "pharmacy", "pharmacist", "ringside",
    "changeme", "secret", "correcthorsebatterystaple", "thisisapassword", "thisismypassword",
    "summer", "winter", "spring", "autumn", "login", "guest", "master", "hello", "test", "user",
    "ward", "saline", "infusion", "123", "321", "abc", "aaa", "000", "111",
)  # fmt: skip
# What people put round a common word to make it long enough.
TRIMMINGS: Final = "0123456789!?.,-_ #*@$&+"

_hasher: Final = PasswordHasher()  # argon2id with RFC 9106's second choice of parameters
_NOBODY: Final = _hasher.hash("a password that opens nothing")


# Not frozen: Python itself sets an exception's traceback as it passes a context manager.
@dataclass(unsafe_hash=True)
class PasswordRefused(Exception):
    """A new password that is not accepted, with the reason."""

    reason: str

    def __str__(self) -> str:
        return self.reason


def hash_password(password: str) -> str:
    """What is kept of a password."""
    return _hasher.hash(_normal(password))


def is_right(password: str, kept: str | None) -> bool:
    """Whether a password fits what is kept; as slow, and false, where nothing is kept."""
    try:
        right = _hasher.verify(kept or _NOBODY, _normal(password)[: LONGEST + 1])
    except (VerificationError, InvalidHashError):
        return False
    return right and bool(kept)


def needs_new_hash(kept: str) -> bool:
    """True when it was made with parameters that are no longer ours."""
    return _hasher.check_needs_rehash(kept)


def accept(password: str, *names: str) -> str:
    """A new password, if it is accepted. names: of the person, which it may not be made of.

    Raises PasswordRefused.
    """
    length = len(_normal(password))
    if length < SHORTEST:
        raise PasswordRefused(
            f"It has {length} characters. Accepted: at least {SHORTEST}; "
            "a few words in a row are easy to keep in mind."
        )
    if length > LONGEST:
        raise PasswordRefused(f"It has {length} characters. Accepted: at most {LONGEST}.")
    if _is_common(_normal(password).casefold(), names):
        raise PasswordRefused(
            "It is one of those that are tried first: a common word or a row of keys, a name, or "
            "the same over and over. Accepted: any other words, in any writing."
        )
    return password


def _normal(password: str) -> str:
    """One spelling of each letter, so that another keyboard types the same password."""
    return unicodedata.normalize("NFKC", password)


def _is_common(password: str, names: tuple[str, ...]) -> bool:
    known = {"".join(name.casefold().split()) for name in names} - {""}
    known |= {part for name in names for part in name.casefold().split()}
    words = sorted({*COMMON, *known, *(word[::-1] for word in COMMON)}, key=len, reverse=True)
    bare = "".join(password.split())
    cores = {bare, bare.strip(TRIMMINGS)}
    return any(_is_made_of(core, words) or _repeats(core) for core in cores)


def _is_made_of(text: str, words: list[str]) -> bool:
    """True when nothing is left once the longest words are taken out again and again."""
    rest = text
    for word in words:
        rest = rest.replace(word, "\0")
    return not rest.replace("\0", "").strip(TRIMMINGS)


def _repeats(text: str) -> bool:
    """True when it is a short piece written at least three times."""
    least = 3
    return any(
        text == (text[:size] * (len(text) // size + 1))[: len(text)]
        for size in range(1, len(text) // least + 1)
    )
