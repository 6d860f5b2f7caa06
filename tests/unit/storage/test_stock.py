"""What is told of stock is only ever added to, and the newest counts."""

from datetime import UTC, datetime, timedelta

import pytest
from sqlalchemy import Engine

from app.catalogue.stock.stock import NOT_TOLD, NOTHING_TOLD, Stock, StockState
from app.storage.database import reading, transaction
from app.storage.stock import (
    read_last,
    read_stock,
    read_told_after,
    read_told_of,
    tell_once,
    tell_stock,
)

NOW = datetime(2031, 3, 4, 7, 5, tzinfo=UTC)
OUT = StockState("out", NOW, "lorry late", "J.B.")
BACK = StockState("on the ward", NOW + timedelta(hours=2), "", "ward clerk")
SHORT = StockState("short", NOW, "six bags left")


def tell(engine: Engine, fluid_id: str, state: StockState) -> None:
    with transaction(engine) as session:
        tell_stock(session, fluid_id, state)


def test_an_untouched_unit_was_told_nothing(engine: Engine) -> None:
    with reading(engine) as session:
        assert read_stock(session) == NOTHING_TOLD
        assert read_last(session) == 0


def test_the_newest_of_each_fluid_counts_and_what_was_told_before_stays(engine: Engine) -> None:
    tell(engine, "a", OUT)
    tell(engine, "b", SHORT)
    tell(engine, "a", BACK)
    with reading(engine) as session:
        stock = read_stock(session)
        assert stock == Stock({"a": BACK, "b": SHORT}, last=3)
        assert stock.of("c") == NOT_TOLD
        assert read_last(session) == 3
        assert read_told_of(session, "a", most=5) == (BACK, OUT)
        assert read_told_of(session, "a", most=1) == (BACK,)


def test_an_earlier_moment_told_later_still_counts(engine: Engine) -> None:
    tell(engine, "a", BACK)
    tell(engine, "a", OUT)
    with reading(engine) as session:
        assert read_stock(session).of("a") == OUT


def test_what_was_told_after_a_number_is_the_newest_of_each_fluid(engine: Engine) -> None:
    for fluid_id, state in (("a", OUT), ("b", SHORT), ("a", BACK)):
        tell(engine, fluid_id, state)
    with reading(engine) as session:
        assert read_told_after(session, 1) == {"a": BACK, "b": SHORT}
        assert read_told_after(session, 2) == {"a": BACK}
        assert read_told_after(session, 3) == {}


def test_what_a_file_tells_is_added_once_and_does_not_undo_what_was_told_since(
    engine: Engine,
) -> None:
    with transaction(engine) as session:
        assert tell_once(session, "a", OUT)
        tell_stock(session, "a", BACK)
        assert not tell_once(session, "a", OUT)
        assert tell_once(session, "b", OUT)
        assert read_stock(session).states == {"a": BACK, "b": OUT}


def test_a_state_without_its_moment_is_not_kept(engine: Engine) -> None:
    with pytest.raises(ValueError, match="since when"):
        tell(engine, "a", StockState("out"))
