"""Tries to sign in, counted by name and by address, so that guessing takes for ever.

Counts stand in the database: every process of the server sees the same. A try is counted before
the password is looked at, so that a hundred tries at once are a hundred, and taken back when it
was right.
"""

import hashlib
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from ipaddress import IPv4Address, ip_address, ip_network
from typing import Final

from sqlalchemy import delete, insert, select, update
from sqlalchemy.exc import IntegrityError
from sqlalchemy.orm import Session

from app.storage.people.tables import AttemptRow

FORGOTTEN_AFTER: Final = timedelta(hours=24)
CLOCKS_DIFFER_BY: Final = timedelta(minutes=1)
STEEPEST: Final = 20  # doublings that are still reckoned


@dataclass(frozen=True, slots=True)
class Allowance:
    """How many wrong tries cost nothing, and how the wait grows with each one after.

    one_forgotten_each_s: seconds in which one wrong try is forgotten; 0 where only a right one
    ends the count.
    """

    free: int
    first_wait_s: int
    longest_wait_s: int
    one_forgotten_each_s: int = 0

    def wait_s(self, failures: int) -> int:
        """Seconds to wait after so many wrong tries in a row; it doubles up to the longest."""
        beyond = failures - self.free
        if beyond <= 0:
            return 0
        return min(self.first_wait_s << min(beyond - 1, STEEPEST), self.longest_wait_s)


# A name waits five minutes at most, so that nobody can lock a colleague out for good.
BY_NAME: Final = Allowance(free=4, first_wait_s=2, longest_wait_s=5 * 60)
# A whole house may share an address, behind a proxy or at one desk, and mistype every day.
BY_ADDRESS: Final = Allowance(
    free=30, first_wait_s=2, longest_wait_s=15 * 60, one_forgotten_each_s=60
)
HOUSEHOLD: Final = 64  # bits of an IPv6 address that one household is given; the rest is its own


@dataclass(frozen=True, slots=True)
class Counted:
    """One thing tries are counted by."""

    key: str
    allowance: Allowance


def by_name(sign_in: str) -> Counted:
    """Tries of one name, whether or not there is such an account."""
    return Counted(_key("name", sign_in), BY_NAME)


def by_session(session_id: int) -> Counted:
    """Tries of whoever holds a session's key: a stranger who tries their name holds up nobody."""
    return Counted(_key("session", str(session_id)), BY_NAME)


def by_address(address: str) -> Counted:
    """Tries from one network address, or from one household's of them."""
    return Counted(_key("address", _household(address)), BY_ADDRESS)


def _household(address: str) -> str:
    try:
        read = ip_address(address.partition("%")[0])
    except ValueError:
        return address
    if isinstance(read, IPv4Address):
        return str(read)
    return str(read.ipv4_mapped or ip_network((read, HOUSEHOLD), strict=False))


def _key(kind: str, text: str) -> str:
    return hashlib.sha256(f"{kind}\0{text}".encode()).hexdigest()


def count_try(session: Session, counted: Iterable[Counted], now: datetime) -> int:
    """Seconds left to wait before a try may be made; 0 when this one may, and is counted."""
    session.execute(delete(AttemptRow).where(AttemptRow.last_at <= now - FORGOTTEN_AFTER))
    rows = [(one, _row(session, one)) for one in counted]
    left = max((_left(row, now) for _, row in rows), default=0)
    if not left:
        for one, row in rows:
            _count(session, one, row, now)
    return left


def _row(session: Session, one: Counted) -> AttemptRow | None:
    """Held for this transaction alone where a database has locks on rows."""
    query = select(AttemptRow).where(AttemptRow.key == one.key).with_for_update()
    return session.scalars(query, execution_options={"populate_existing": True}).one_or_none()


def _left(row: AttemptRow | None, now: datetime) -> int:
    if row is None or row.wait_until is None or row.wait_until <= now:
        return 0
    if row.last_at - now > CLOCKS_DIFFER_BY:
        return 0  # the clock was set back: nobody waits for hours because of it
    return -int(-(row.wait_until - now).total_seconds() // 1)  # a part of a second is a second


def _count(session: Session, one: Counted, row: AttemptRow | None, now: datetime) -> None:
    if row is None:
        try:
            with session.begin_nested():
                first = {"key": one.key, "failures": 0, "last_at": now}
                session.execute(insert(AttemptRow).values(**first))
        except IntegrityError:
            pass  # another process counted this one's first try in the same moment
        row = _row(session, one)
    before, since = (0, now) if row is None else _remembered(row, one.allowance, now)
    failures = 1 + before
    wait = one.allowance.wait_s(failures)
    values = {
        "failures": failures,
        "last_at": since,
        "wait_until": now + timedelta(seconds=wait) if wait else None,
    }
    session.execute(update(AttemptRow).where(AttemptRow.key == one.key).values(**values))


def _remembered(row: AttemptRow, allowance: Allowance, now: datetime) -> tuple[int, datetime]:
    """Wrong tries that still count, and from when on the next is being forgotten."""
    each = timedelta(seconds=allowance.one_forgotten_each_s)
    if not each or row.last_at > now:
        return row.failures, now
    forgotten = (now - row.last_at) // each
    if forgotten >= row.failures:
        return 0, now
    return row.failures - forgotten, row.last_at + forgotten * each


def try_was_right(session: Session, name: Counted, address: Counted) -> None:
    """The name's count ends; the address is given this try back, and no more: whoever has an
    account of their own could else guess others' for ever.
    """
    forget(session, name)
    row = _row(session, address)
    if row is not None and row.failures > 0:
        given_back = {"failures": row.failures - 1, "wait_until": None}
        session.execute(
            update(AttemptRow).where(AttemptRow.key == address.key).values(**given_back)
        )


def forget(session: Session, one: Counted) -> None:
    """As if nobody had tried."""
    session.execute(delete(AttemptRow).where(AttemptRow.key == one.key))


def failures_of(session: Session, one: Counted) -> int:
    """Wrong tries in a row so far."""
    found = session.scalar(select(AttemptRow.failures).where(AttemptRow.key == one.key))
    return found or 0
