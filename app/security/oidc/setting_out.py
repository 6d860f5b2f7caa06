"""What a browser carries while it is at the house's sign-in: sealed, and good for ten minutes."""

import base64
import hashlib
import json
from dataclasses import dataclass
from datetime import datetime
from typing import Final

from cryptography.fernet import Fernet, InvalidToken

from app.security.oidc.flow import KEPT_FOR_S, Begun

LONGEST_BACK: Final = 1024


@dataclass(frozen=True, slots=True)
class SetOut:
    """Somebody on the way. back: the address of ours that they came from."""

    begun: Begun
    back: str


def sealed_way(way: SetOut, secret: str, now: datetime) -> str:
    """The way as one text that only this server reads, for a cookie of the browser's."""
    begun = way.begun
    parts = [begun.state, begun.nonce, begun.verifier, way.back[:LONGEST_BACK]]
    packed = json.dumps(parts).encode()
    return _sealer(secret, "way").encrypt_at_time(packed, int(now.timestamp())).decode()


def way_of(sealed: str, secret: str, now: datetime) -> SetOut | None:
    """The way again; None when it is not ours, was changed, or took over ten minutes."""
    try:
        packed = _sealer(secret, "way").decrypt_at_time(
            sealed.encode(), KEPT_FOR_S, int(now.timestamp())
        )
    except (InvalidToken, ValueError):
        return None
    state, nonce, verifier, back = json.loads(packed)
    return SetOut(Begun("", state, nonce, verifier), back)


def sealed_grant(again: str, secret: str) -> str:
    """What the house gave to ask again with, so that a copy of the database asks nothing."""
    return _sealer(secret, "grant").encrypt(again.encode()).decode()


def grant_of(sealed: str, secret: str) -> str:
    """The same again; empty when another server sealed it."""
    try:
        return _sealer(secret, "grant").decrypt(sealed.encode()).decode()
    except (InvalidToken, ValueError):
        return ""


def _sealer(secret: str, of: str) -> Fernet:
    key = hashlib.sha256(f"house {of}\0{secret}".encode()).digest()
    return Fernet(base64.urlsafe_b64encode(key))
