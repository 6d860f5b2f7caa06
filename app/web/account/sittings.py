"""Sessions in words."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from app.storage.people.sessions import Sitting


@dataclass(frozen=True, slots=True)
class SittingView:
    """One session. here: it is the one that asks; open: it can still be ended."""

    begun: str
    seen: str
    state: str
    via: str
    open: bool
    here: bool


def sitting_views(
    sittings: Iterable[Sitting], now: datetime, here: int = 0
) -> tuple[SittingView, ...]:
    """Each session, as its owner or an administrator reads it."""
    return tuple(
        SittingView(
            begun=moment(one.begun_at),
            seen=ago(one.seen_at, now),
            state=state_text(one),
            via="password" if one.via == "local" else "the hospital’s sign-in",
            open=one.ended_at is None,
            here=one.id == here,
        )
        for one in sittings
    )


def state_text(one: Sitting) -> str:
    """Open, locked, or ended and why."""
    if one.ended_at is not None:
        return f"ended {moment(one.ended_at)}: {one.ended_why}"
    return "locked by hand" if one.locked_at is not None else "open"


def moment(at: datetime | None) -> str:
    """A moment in full: accounts are looked at long after."""
    return "never" if at is None else f"{at:%Y-%m-%d %H:%M} UTC"


def ago(at: datetime | None, now: datetime) -> str:
    """How long ago, roughly."""
    if at is None:
        return "never"
    minutes = int((now - at).total_seconds() // 60)
    if minutes < 1:
        return "just now"
    for size, word in ((1440, "day"), (60, "hour"), (1, "minute")):
        if minutes >= size:
            count = minutes // size
            return f"{count} {word}{'s' * (count != 1)} ago"
    raise AssertionError(minutes)
