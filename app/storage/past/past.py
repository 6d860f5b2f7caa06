"""Past orders in the database: added once each, read in the order they came, taken away by age."""

import hashlib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any, Final

import orjson
from sqlalchemy import Text, cast, delete, func, insert, select
from sqlalchemy.orm import Session

from app.intake.bedside.wards import SETTINGS
from app.intake.vocabulary import fold
from app.storage.past.tables import PastOrderRow

NOT_TOLD: Final = "not told"
READ_AT_ONCE: Final = 1000
ASKED_AT_ONCE: Final = 500

# A row as it is counted: its id, moment, setting, and the request as JSON text.
Raw = tuple[int, datetime, str, str]


@dataclass(frozen=True, slots=True)
class PastOrder:
    """One past request, without its person."""

    id: int
    at: datetime
    setting: str
    request: Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Held:
    """What there is: requests, orders, and the moments of the first and the last."""

    requests: int = 0
    orders: int = 0
    first: datetime | None = None
    last: datetime | None = None


def keep_past(
    session: Session, found: Iterable[tuple[datetime, Mapping[str, Any]]], *, invented: bool = False
) -> int:
    """Add requests that have no person in them any more, each once; how many were new."""
    rows: dict[str, dict[str, Any]] = {}
    for at, request in found:
        if request.get("orders"):
            rows.setdefault(_sha256(request), _row(at, request, invented=invented))
    new = rows.keys() - _known(session, list(rows))
    if new:
        added = [{"sha256": sha, **row} for sha, row in rows.items() if sha in new]
        session.execute(insert(PastOrderRow), added)
    return len(new)


def setting_of(request: Mapping[str, Any]) -> str:
    """Where, as reviews name it; "not told" when it is not said or not known."""
    written = request.get("setting")
    return SETTINGS.get(fold(written), NOT_TOLD) if isinstance(written, str) else NOT_TOLD


def read_past(session: Session, past_id: int) -> PastOrder | None:
    """One past request, or None when it never was or retention has taken it away."""
    row = session.get(PastOrderRow, past_id)
    return None if row is None else PastOrder(row.id, row.at, row.setting, row.request)


def held_past(session: Session, since: datetime | None = None) -> Held:
    """What there is, from a moment on."""
    row = PastOrderRow
    query = select(
        func.count(row.id), func.coalesce(func.sum(row.orders), 0), func.min(row.at),
        func.max(row.at),
    )  # fmt: skip
    found = session.execute(query if since is None else query.where(row.at >= since)).one()
    return Held(*found)


def raw_past(session: Session, since: datetime | None = None) -> Iterator[Raw]:
    """Every past request from a moment on, oldest first, its request as text: whoever counts it
    reads it, on another processor.
    """
    row, last = PastOrderRow, 0
    columns = select(row.id, row.at, row.setting, cast(row.request, Text)).order_by(row.id)
    if since is not None:
        columns = columns.where(row.at >= since)
    while True:
        page = session.execute(columns.where(row.id > last).limit(READ_AT_ONCE)).all()
        if not page:
            return
        last = page[-1][0]
        yield from ((id_, at, setting, text) for id_, at, setting, text in page)


def purge_past(session: Session, before: datetime) -> int:
    """Take away what is older than a moment; how many requests that were. The only way out."""
    row = PastOrderRow
    gone = session.scalar(select(func.count(row.id)).where(row.at < before)) or 0
    session.execute(delete(row).where(row.at < before))
    return gone


def _row(at: datetime, request: Mapping[str, Any], *, invented: bool) -> dict[str, Any]:
    orders = len(request["orders"])
    setting = setting_of(request)
    return {
        "at": at, "setting": setting, "orders": orders, "invented": invented,
        "request": dict(request),
    }  # fmt: skip


def _known(session: Session, shas: list[str]) -> set[str]:
    known: set[str] = set()
    for start in range(0, len(shas), ASKED_AT_ONCE):
        asked = shas[start : start + ASKED_AT_ONCE]
        known |= set(
            session.scalars(select(PastOrderRow.sha256).where(PastOrderRow.sha256.in_(asked)))
        )
    return known


def _sha256(request: Mapping[str, Any]) -> str:
    return hashlib.sha256(orjson.dumps(request, option=orjson.OPT_SORT_KEYS)).hexdigest()
