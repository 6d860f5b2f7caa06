"""Past orders in the database."""

import json
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from sqlalchemy import Engine, delete, select, update
from sqlalchemy.exc import DBAPIError

from app.storage.database import reading, transaction
from app.storage.past import past as module
from app.storage.past.past import (
    Held,
    held_past,
    keep_past,
    purge_past,
    raw_past,
    read_past,
    setting_of,
)
from app.storage.past.tables import PastOrderRow

AT = datetime(2031, 3, 4, 7, tzinfo=UTC)


def request(rate_ml_h: int, setting: str = "ICU") -> dict[str, Any]:
    return {"setting": setting, "orders": [{"id": "o1", "fluid": "LR", "rate_ml_h": rate_ml_h}]}


def kept(engine: Engine, *rates: int, at: datetime = AT) -> int:
    with transaction(engine) as session:
        return keep_past(session, [(at, request(rate)) for rate in rates])


def test_the_same_request_is_kept_once(engine: Engine) -> None:
    assert kept(engine, 80, 90, 80) == 2
    assert kept(engine, 80, at=AT + timedelta(days=1)) == 0
    assert kept(engine, 100) == 1
    with reading(engine) as session:
        assert held_past(session) == Held(3, 3, AT, AT)


def test_a_bed_without_orders_is_not_kept(engine: Engine) -> None:
    with transaction(engine) as session:
        assert keep_past(session, [(AT, {"orders": []}), (AT, {})]) == 0
        assert held_past(session) == Held(0, 0, None, None)


def test_rows_are_read_oldest_first_as_text(
    engine: Engine, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(module, "READ_AT_ONCE", 2)
    kept(engine, 80, 90, 100, 110, 120)
    with reading(engine) as session:
        rows = list(raw_past(session))
    assert [json.loads(text)["orders"][0]["rate_ml_h"] for *_, text in rows] == [
        80, 90, 100, 110, 120,
    ]  # fmt: skip
    assert {(at, setting) for _, at, setting, _ in rows} == {(AT, "ICU")}


def test_from_a_moment_on(engine: Engine) -> None:
    kept(engine, 80)
    kept(engine, 90, at=AT + timedelta(days=2))
    since = AT + timedelta(days=1)
    with reading(engine) as session:
        assert held_past(session, since).requests == 1
        assert len(list(raw_past(session, since))) == 1


def test_retention_takes_away_what_is_older_and_nothing_else(engine: Engine) -> None:
    kept(engine, 80, 85)
    kept(engine, 90, at=AT + timedelta(days=2))
    with transaction(engine) as session:
        assert purge_past(session, AT + timedelta(days=1)) == 2
        assert purge_past(session, AT + timedelta(days=1)) == 0
        left = session.scalars(select(PastOrderRow.id)).all()
        assert len(left) == 1
        assert read_past(session, left[0]) is not None
        assert read_past(session, 1) is None


def test_the_database_itself_refuses_an_edit(engine: Engine) -> None:
    kept(engine, 80)
    with pytest.raises(DBAPIError, match="only ever added to"), transaction(engine) as session:
        session.execute(update(PastOrderRow).values(setting="ED"))


def test_what_was_taken_away_leaves_its_number_unused(engine: Engine) -> None:
    """A link to a row that is gone must not lead to another patient's orders."""
    kept(engine, 80, 90)
    with transaction(engine) as session:
        session.execute(delete(PastOrderRow).where(PastOrderRow.id == 2))
    kept(engine, 100)
    with reading(engine) as session:
        assert session.scalars(select(PastOrderRow.id)).all() == [1, 3]


def test_places_are_named_as_reviews_name_them() -> None:
    assert setting_of({"setting": "intensive care"}) == "ICU"
    assert setting_of({"setting": "the moon"}) == "not told"
    assert setting_of({}) == "not told"
