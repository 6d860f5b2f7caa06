"""The database itself lets the trail only grow, whatever program asks."""

from datetime import UTC, datetime

import pytest
from sqlalchemy import Engine, delete, insert, select, update
from sqlalchemy.exc import IntegrityError

from app.storage.audit.tables import TrailHeadRow, TrailRow
from app.storage.audit.trail import record
from app.storage.database import transaction

AT = datetime(2031, 3, 4, 7, 5, tzinfo=UTC)
REFUSAL = "only ever added to"


@pytest.fixture
def written(engine: Engine) -> Engine:
    with transaction(engine) as session:
        for fluid in ("a", "b"):
            record(
                session, at=AT, who="K. Osei", account_id="k.osei", act="told stock",
                subject=f"stock:{fluid}", after={"state": "out"},
            )  # fmt: skip
    return engine


@pytest.mark.parametrize("column", [column.key for column in TrailRow.__table__.columns])
def test_no_column_of_a_row_can_be_changed(written: Engine, column: str) -> None:
    change = update(TrailRow).values({column: getattr(TrailRow, column)})
    with pytest.raises(IntegrityError, match=REFUSAL), transaction(written) as session:
        session.execute(change)


@pytest.mark.parametrize("table", [TrailRow, TrailHeadRow])
def test_no_row_can_be_deleted(written: Engine, table: type[TrailRow] | type[TrailHeadRow]) -> None:
    with pytest.raises(IntegrityError, match=REFUSAL), transaction(written) as session:
        session.execute(delete(table))


@pytest.mark.parametrize("count", [0, 1, 2, 4])
def test_the_head_only_moves_on_by_one(written: Engine, count: int) -> None:
    with pytest.raises(IntegrityError, match=REFUSAL), transaction(written) as session:
        session.execute(update(TrailHeadRow).values(count=count))


def test_a_number_is_given_once(written: Engine) -> None:
    copied = select(*TrailRow.__table__.columns).where(TrailRow.seq == 2)
    columns = [column.key for column in TrailRow.__table__.columns]
    with pytest.raises(IntegrityError, match="UNIQUE"), transaction(written) as session:
        session.execute(insert(TrailRow).from_select(columns, copied))
