"""Where a browser stands with us: open, locked, ended, or nobody known."""

from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from enum import StrEnum
from typing import Final

from sqlalchemy import Engine
from sqlalchemy.exc import OperationalError

from app.security.acts import Role
from app.security.person import Person
from app.settings import Settings
from app.storage.database import transaction
from app.storage.people.sessions import Held, change_key, held_by, touch

# How often it is written down that somebody is there: a tenth of the idle time, at most this.
SEEN_EVERY: Final = timedelta(seconds=30)
SHARE_OF_IDLE: Final = 10
ROLE_NAMES: Final = frozenset(Role)


class State(StrEnum):
    """What a session lets somebody do."""

    NONE = "none"
    OPEN = "open"
    LOCKED = "locked"
    ENDED = "ended"


@dataclass(frozen=True, slots=True)
class Standing:
    """A browser's session. person: also of one that is locked or ended; None when not known.

    new_key: a key to give to the browser with the answer; empty when its own goes on.
    confirmed_at: when the house's own sign-in last stood for the person, or the session began.
    """

    state: State
    person: Person | None = None
    session_id: int = 0
    sign_in: str = ""
    must_change: bool = False
    new_key: str = field(default="", repr=False)
    confirmed_at: datetime | None = None

    @property
    def present(self) -> Person | None:
        """The person, while the session is open."""
        return self.person if self.state is State.OPEN else None


NOBODY: Final = Standing(State.NONE)


def standing_of(
    engine: Engine, key: str, settings: Settings, now: datetime, *, attended: bool
) -> Standing:
    """Where the holder of a key stands now. attended: a person did this, and not the page itself.

    One indexed query; a write when the person was last seen a while ago or has other roles now.
    """
    held = held_by(engine, key)
    if held is None:
        return NOBODY
    state = state_of(held, settings, now)
    standing = Standing(
        state=state,
        person=person_of(held),
        session_id=held.session_id,
        sign_in=held.sign_in,
        must_change=held.must_change,
        confirmed_at=held.confirmed_at or held.begun_at,
    )
    if state is not State.OPEN:
        return standing
    return _kept_up(engine, held, standing, settings, now if attended else None)


def person_of(held: Held) -> Person:
    """Who it is. A role this release does not know gives nothing."""
    roles = frozenset(Role(role) for role in held.roles & ROLE_NAMES)
    return Person(held.account_id, held.name, roles, held.via)


def state_of(held: Held, settings: Settings, now: datetime) -> State:
    """Ended wins over locked; a demo account stands in demo mode alone."""
    too_long = now - held.begun_at >= timedelta(hours=settings.session_hours)
    over = held.ended_at is not None or held.account_ended_at is not None
    if over or too_long or (held.demo and not settings.demo):
        return State.ENDED
    idle = now - held.seen_at >= timedelta(minutes=settings.idle_minutes)
    return State.LOCKED if idle or held.locked_at is not None else State.OPEN


def seen_every(settings: Settings) -> timedelta:
    """How old "last seen" may grow before it is written anew."""
    return min(SEEN_EVERY, timedelta(minutes=settings.idle_minutes) / SHARE_OF_IDLE)


def _kept_up(
    engine: Engine, held: Held, standing: Standing, settings: Settings, at: datetime | None
) -> Standing:
    other_roles = held.roles != held.roles_of_key
    seen = at is not None and at - held.seen_at >= seen_every(settings)
    if not other_roles and not seen:
        return standing
    try:
        with transaction(engine) as session:
            if at is not None and seen:
                touch(session, held.session_id, at)
            key = change_key(session, held.session_id) if other_roles else ""
    except OperationalError:  # a busy database keeps nobody from reading
        return standing
    return replace(standing, new_key=key)
