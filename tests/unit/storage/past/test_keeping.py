"""Beds kept as they change."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

from sqlalchemy import Engine, event, select

from app.intake.vocabulary import Vocabulary
from app.storage.database import reading
from app.storage.past.keeping import Keeper
from app.storage.past.tables import PastOrderRow
from app.storage.patients import Bed

AT = datetime(2031, 3, 4, 7, tzinfo=UTC)
BED = Bed(
    "p1", "12", "R.A.",
    {"setting": "ICU", "patient": {"age_years": 50}, "orders": [{"id": "x", "fluid": "LR"}]},
)  # fmt: skip


def changed(rate_ml_h: int) -> Bed:
    return replace(BED, request={**BED.request, "orders": [{"id": "x", "rate_ml_h": rate_ml_h}]})


def test_a_bed_is_kept_when_it_changes_and_not_when_it_does_not(
    engine: Engine, vocabulary: Vocabulary
) -> None:
    keeper, writes = Keeper(), []
    event.listen(engine, "before_cursor_execute", lambda *a: writes.append(a[2]))
    assert keeper.keep(engine, [BED], AT, vocabulary) == 1
    so_far = len(writes)
    assert keeper.keep(engine, [BED], AT + timedelta(minutes=1), vocabulary) == 0
    assert len(writes) == so_far
    assert keeper.keep(engine, [changed(80)], AT + timedelta(hours=1), vocabulary) == 1
    with reading(engine) as session:
        rows = session.execute(select(PastOrderRow.at, PastOrderRow.setting)).all()
    assert rows == [(AT, "ICU"), (AT + timedelta(hours=1), "ICU")]


def test_another_process_adds_nothing_twice(engine: Engine, vocabulary: Vocabulary) -> None:
    assert Keeper().keep(engine, [BED], AT, vocabulary) == 1
    assert Keeper().keep(engine, [BED], AT + timedelta(hours=1), vocabulary) == 0


def test_a_bed_that_goes_back_to_what_it_was_is_kept_once(
    engine: Engine, vocabulary: Vocabulary
) -> None:
    keeper = Keeper()
    new = [keeper.keep(engine, [bed], AT, vocabulary) for bed in (BED, changed(80), BED)]
    assert new == [1, 1, 0]
