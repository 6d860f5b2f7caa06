"""What was typed into a form whose session was over: carried by the browser, sealed by us.

It may hold a patient's words and lies on a page that anyone at the desk can look into, so it is
encrypted with a key made from RINGSIDE_SECRET; nobody can read, change or make one up.
"""

import base64
import hashlib
import json
import zlib
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

from cryptography.fernet import Fernet, InvalidToken

LONGEST_TYPED: Final = 64 * 1024
GOOD_FOR: Final = timedelta(hours=24)
NEVER_KEPT: Final = ("password", "secret", "token", "key")

Fields = tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Kept:
    """One form. by: the account it was typed in; empty when that is not known."""

    by: str
    by_name: str
    address: str
    fields: Fields


class TooMuchTyped(Exception):
    """More than a page can carry along."""


def worth_keeping(fields: Iterable[tuple[str, str]]) -> Fields:
    """What was typed, without passwords and blanks. Raises TooMuchTyped."""
    kept = tuple((name, text) for name, text in fields if text and not _is_secret(name))
    if sum(len(name) + len(text) for name, text in kept) > LONGEST_TYPED:
        raise TooMuchTyped
    return kept


def _is_secret(name: str) -> bool:
    return any(word in name.casefold() for word in NEVER_KEPT)


def seal(kept: Kept, secret: str, now: datetime) -> str:
    """The form as one text that only this server reads."""
    document = [kept.by, kept.by_name, kept.address, kept.fields]
    packed = zlib.compress(json.dumps(document).encode())
    return _sealer(secret).encrypt_at_time(packed, int(now.timestamp())).decode()


def unseal(sealed: str, secret: str, now: datetime) -> Kept | None:
    """The form again; None when it is not ours, was changed, or is a day old."""
    lasts = int(GOOD_FOR.total_seconds())
    try:
        packed = _sealer(secret).decrypt_at_time(sealed.encode(), lasts, int(now.timestamp()))
    except (InvalidToken, ValueError):
        return None
    by, by_name, address, fields = json.loads(zlib.decompress(packed))
    return Kept(by, by_name, address, tuple((name, text) for name, text in fields))


def _sealer(secret: str) -> Fernet:
    return Fernet(base64.urlsafe_b64encode(hashlib.sha256(f"kept\0{secret}".encode()).digest()))
