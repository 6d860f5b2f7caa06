"""The database itself refuses to change or take back what was counted or planned."""

from datetime import UTC, datetime

import pytest
from sqlalchemy import Engine, delete, update
from sqlalchemy.exc import DatabaseError

from app.catalogue.stock.counts import BagCount
from app.storage.database import transaction
from app.storage.shortage.counts import tell_counts
from app.storage.shortage.plans import KeptPlan, keep_plan
from app.storage.shortage.tables import BagCountRow, ShortagePlanRow

NOW = datetime(2031, 3, 4, 7, 5, tzinfo=UTC)


@pytest.fixture
def filled(engine: Engine) -> Engine:
    with transaction(engine) as session:
        tell_counts(session, [BagCount("a", 1000, "ward", 9, NOW)])
        keep_plan(session, KeptPlan(NOW, "J.B.", "a-1", "note", {"lost": []}))
    return engine


@pytest.mark.parametrize(
    "act",
    [
        update(BagCountRow).values(bags=99),
        delete(BagCountRow),
        update(ShortagePlanRow).values(note="other"),
        delete(ShortagePlanRow),
    ],
    ids=["change a count", "remove a count", "change a plan", "remove a plan"],
)
def test_neither_a_count_nor_a_plan_is_changed_or_removed(filled: Engine, act: object) -> None:
    with pytest.raises(DatabaseError, match="only ever added to"), transaction(filled) as session:
        session.execute(act)  # type: ignore[call-overload]
