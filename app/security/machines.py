"""Machine clients: a bearer token, and the parts of the outside interface it opens."""

import hmac
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum
from typing import Final

from sqlalchemy import Engine
from sqlalchemy.exc import OperationalError

from app.security.acts import Scope
from app.settings import Settings
from app.storage.database import transaction
from app.storage.people.tokens import Token, token_of, token_used

BEARER: Final = "bearer "
SEND_A_TOKEN: Final = "Send the header “Authorization: Bearer TOKEN” with a token of this server."
LONGEST_KEY: Final = 512
USED_EVERY: Final = timedelta(minutes=1)
EVERY_PART: Final = frozenset(Scope)


class Stopped(StrEnum):
    """Why a program comes no further."""

    NO = ""
    UNKNOWN = "unknown"
    ENDED = "ended"
    EXPIRED = "expired"
    OTHER_PART = "another part"


@dataclass(frozen=True, slots=True)
class Machine:
    """A program that asks. name: of its token; parts: what it opens; asked: what was asked for."""

    name: str
    parts: frozenset[Scope]
    asked: Scope
    stopped: Stopped = Stopped.NO

    @property
    def comes_in(self) -> bool:
        """True when it may have what it asked for."""
        return self.stopped is Stopped.NO


def machine_of(
    engine: Engine, header: str, asked: Scope, settings: Settings, now: datetime
) -> Machine:
    """The program behind an Authorization header, and whether it comes in."""
    key = bearer_key(header)
    if key and is_one_of(key, settings.api_tokens):
        return Machine("set in the environment", EVERY_PART, asked)
    try:
        token = token_of(engine, key) if key else None
        if token is not None and _is_stale(token, now):
            with transaction(engine) as session:
                token_used(session, token.id, now)
    except OperationalError:  # no table yet, or a busy one: a token in the environment still opens
        token = None
    if token is None:
        return Machine("", frozenset(), asked, Stopped.UNKNOWN)
    parts = frozenset(Scope(part) for part in token.scopes & EVERY_PART)
    return Machine(token.name, parts, asked, _stopped(token, parts, asked, now))


def _stopped(token: Token, parts: frozenset[Scope], asked: Scope, now: datetime) -> Stopped:
    if token.ended_at is not None:
        return Stopped.ENDED
    if not token.opens(now):
        return Stopped.EXPIRED
    return Stopped.NO if asked in parts else Stopped.OTHER_PART


def _is_stale(token: Token, now: datetime) -> bool:
    """True when "last used" is to be written anew; a token that opens nothing is not used."""
    return token.opens(now) and (token.used_at is None or now - token.used_at >= USED_EVERY)


def bearer_key(header: str) -> str:
    """The key in an Authorization header; empty where there is none."""
    if not header.lower().startswith(BEARER):
        return ""
    key = header[len(BEARER) :].strip()
    return key if len(key) <= LONGEST_KEY else ""


def is_one_of(key: str, keys: Iterable[str]) -> bool:
    """Whether a key is one of these, compared in constant time."""
    given = key.encode()
    # Every one is compared, so that the time taken tells nothing.
    return any([hmac.compare_digest(given, one.encode()) for one in keys])
