"""Bags counted: rows are only ever added, and the newest of a size and place counts."""

from collections.abc import Iterable, Sequence
from typing import Any, Final, cast

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from app.catalogue.stock.counts import BagCount, Counts, Place
from app.storage.shortage.tables import BagCountRow

COUNTED: Final = select(
    BagCountRow.fluid_id,
    BagCountRow.size_ml,
    BagCountRow.place,
    BagCountRow.bags,
    BagCountRow.at,
    BagCountRow.by,
)
NEWEST: Final = select(func.max(BagCountRow.id)).group_by(
    BagCountRow.fluid_id, BagCountRow.size_ml, BagCountRow.place
)


def read_counts(session: Session) -> Counts:
    """What was last counted of every fluid, size and place."""
    rows = session.execute(COUNTED.where(BagCountRow.id.in_(NEWEST)).order_by(BagCountRow.id))
    return Counts.of(_count(row) for row in rows)


def read_counted_of(session: Session, fluid_id: str, most: int) -> tuple[BagCount, ...]:
    """The last counts of one fluid, newest first."""
    query = COUNTED.where(BagCountRow.fluid_id == fluid_id).order_by(BagCountRow.id.desc())
    return tuple(_count(row) for row in session.execute(query.limit(most)))


def tell_counts(session: Session, counts: Iterable[BagCount]) -> None:
    """Add what somebody counted."""
    session.add_all(_row(one) for one in counts)
    session.flush()


def tell_counts_once(session: Session, counts: Iterable[BagCount]) -> int:
    """Add what a file counts, but for what was told just so before; returns how many were added."""
    fresh = [one for one in counts if not _is_there(session, one)]
    tell_counts(session, fresh)
    return len(fresh)


def _is_there(session: Session, one: BagCount) -> bool:
    row = BagCountRow
    same = select(row.id).where(
        row.fluid_id == one.fluid_id, row.size_ml == one.size_ml, row.place == one.place,
        row.bags == one.bags, row.at == one.at, row.by == one.by,
    )  # fmt: skip
    return session.scalar(same.limit(1)) is not None


def _row(one: BagCount) -> BagCountRow:
    return BagCountRow(
        fluid_id=one.fluid_id, size_ml=one.size_ml, place=one.place, bags=one.bags,
        at=one.at, by=one.by,
    )  # fmt: skip


def _count(row: Sequence[Any]) -> BagCount:
    # Only tell_counts() writes these rows, and a BagCount has no other place.
    fluid_id, size_ml, place, bags, at, by = row
    return BagCount(fluid_id, size_ml, cast(Place, place), bags, at, by)
