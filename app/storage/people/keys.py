"""Secrets that open something: 256 random bits, of which only a hash is kept."""

import hashlib
import secrets
from typing import Final

KEY_BYTES: Final = 32


def new_key() -> str:
    """A key that nobody can guess."""
    return secrets.token_urlsafe(KEY_BYTES)


def hash_of(key: str) -> str:
    """What is kept of a key. It needs no slow hash: there is nothing to guess in it."""
    return hashlib.sha256(key.encode()).hexdigest()
