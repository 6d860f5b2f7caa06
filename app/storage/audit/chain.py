"""One act as the text that is hashed, and the seal on the last hash. Pure."""

import hashlib
import hmac
import json
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any, Final

from app.canonical import canonical, plain

KEY_FOR: Final = b"ringside trail head 1"
# Made once: a million rows are hashed in one check.
AS_JSON: Final = json.JSONEncoder(ensure_ascii=False).encode


@dataclass(frozen=True, slots=True)
class Link:
    """One row of the trail as it is stored.

    before, after: canonical JSON text, None where there is none. previous: hash of the row before.
    """

    seq: int
    at: datetime
    who: str
    account_id: str
    act: str
    subject: str
    before: str | None
    after: str | None
    previous: str
    sha256: str = ""


@dataclass(frozen=True, slots=True)
class Head:
    """How many rows there are and the last one's hash; sealed: how many the seal speaks for."""

    count: int
    last: str
    sealed: int
    seal: str


def document_text(document: dict[str, Any] | None) -> str | None:
    """A document as it is kept and hashed, times as text; None stays None."""
    return None if document is None else canonical(plain(document))


def hash_of(link: Link) -> str:
    """SHA-256, in hex, of the row as canonical JSON (RFC 8785) without its own hash.

    The documents go in as they are stored, so that a blank put into one shows as well.
    """
    text = (
        f'{{"account_id":{AS_JSON(link.account_id)}'
        f',"act":{AS_JSON(link.act)}'
        f',"after":{"null" if link.after is None else link.after}'
        f',"at":"{link.at.astimezone(UTC).isoformat()}"'
        f',"before":{"null" if link.before is None else link.before}'
        f',"previous":{AS_JSON(link.previous)},"seq":{link.seq}'
        f',"subject":{AS_JSON(link.subject)}'
        f',"who":{AS_JSON(link.who)}}}'
    )
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()


def key_of(secret: str) -> bytes:
    """The key of the seal, made from the server's secret; empty when there is none."""
    return hmac.digest(secret.encode(), KEY_FOR, "sha256") if secret else b""


def seal_of(count: int, last: str, key: bytes) -> str:
    """The seal on so many rows that end in this hash; only who has the key can make it."""
    return hmac.digest(key, f"{count}:{last}".encode(), "sha256").hex()


def seal_holds(count: int, last: str, key: bytes, seal: str) -> bool:
    """Whether this is the seal that this key makes."""
    return hmac.compare_digest(seal_of(count, last, key).encode(), seal.encode())


def seal_stands(head: Head, key: bytes) -> bool:
    """Whether the seal speaks for every row, or there is none yet to speak for.

    A seal that does not stand is never made good by writing on: that would hide a cut.
    """
    if head.count == 0:
        return True
    return head.sealed == head.count and seal_holds(head.count, head.last, key, head.seal)
