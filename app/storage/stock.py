"""Where fluids are to be had: rows are only ever added, and the newest of a fluid counts."""

from collections.abc import Iterable, Mapping, Sequence
from types import MappingProxyType
from typing import Any, Final

from sqlalchemy import Select, func, select
from sqlalchemy.orm import Session

from app.catalogue.stock.stock import Stock, StockState
from app.storage.tables import StockRow

# Number, fluid, state, since, note, by.
Told = Sequence[Any]
TOLD: Final = select(
    StockRow.id, StockRow.fluid_id, StockRow.state, StockRow.since, StockRow.note, StockRow.by
)
NEWEST: Final[Select[Any]] = select(func.max(StockRow.id)).group_by(StockRow.fluid_id)


def read_stock(session: Session) -> Stock:
    """What was last told of every fluid."""
    rows = session.execute(TOLD.where(StockRow.id.in_(NEWEST))).all()
    return Stock(_by_fluid(rows), max((row.id for row in rows), default=0))


def read_last(session: Session) -> int:
    """Number of the last thing told, 0 when nothing was."""
    return session.scalar(select(func.max(StockRow.id))) or 0


def read_told_after(session: Session, number: int) -> Mapping[str, StockState]:
    """Where fluids are of which something was told after this number, by id."""
    newest = NEWEST.where(StockRow.id > number)
    return _by_fluid(session.execute(TOLD.where(StockRow.id.in_(newest)).order_by(StockRow.id)))


def read_told_of(session: Session, fluid_id: str, most: int) -> tuple[StockState, ...]:
    """The last things told of one fluid, newest first."""
    rows = session.execute(
        TOLD.where(StockRow.fluid_id == fluid_id).order_by(StockRow.id.desc()).limit(most)
    )
    return tuple(_state(row) for row in rows)


def tell_stock(session: Session, fluid_id: str, told: StockState) -> None:
    """Add what somebody told of a fluid; it must say since when."""
    if told.since is None:
        raise ValueError("what is told of stock says since when")
    session.add(
        StockRow(fluid_id=fluid_id, state=told.state, since=told.since, note=told.note, by=told.by)
    )
    session.flush()


def tell_once(session: Session, fluid_id: str, told: StockState) -> bool:
    """Add what a file tells unless just this was told before; True when it was added."""
    row = StockRow
    same = select(row.id).where(
        row.fluid_id == fluid_id, row.state == told.state, row.since == told.since,
        row.note == told.note, row.by == told.by,
    )  # fmt: skip
    if session.scalar(same.limit(1)) is not None:
        return False
    tell_stock(session, fluid_id, told)
    return True


def _by_fluid(rows: Iterable[Told]) -> Mapping[str, StockState]:
    return MappingProxyType({row[1]: _state(row) for row in rows})


def _state(row: Told) -> StockState:
    # Only tell_stock() writes these rows, and a StockState has no other state.
    _, _, state, since, note, by = row
    return StockState(state, since, note, by)
