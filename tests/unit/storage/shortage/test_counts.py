"""What is counted is only ever added to, and the newest counts."""

from datetime import UTC, datetime, timedelta

import pytest
from sqlalchemy import Engine

from app.catalogue.stock.counts import NOTHING_COUNTED, BagCount
from app.storage.database import reading, transaction
from app.storage.shortage.counts import (
    read_counted_of,
    read_counts,
    tell_counts,
    tell_counts_once,
)

NOW = datetime(2031, 3, 4, 7, 5, tzinfo=UTC)


def count(bags: int, size: int = 1000, later_h: float = 0) -> BagCount:
    return BagCount("a", size, "ward", bags, NOW + timedelta(hours=later_h), "J.B.")


def test_an_untouched_unit_has_counted_nothing(engine: Engine) -> None:
    with reading(engine) as session:
        assert read_counts(session) == NOTHING_COUNTED
        assert read_counted_of(session, "a", most=5) == ()


def test_the_newest_told_counts_and_what_was_counted_before_stays(engine: Engine) -> None:
    with transaction(engine) as session:
        tell_counts(session, [count(9), count(3, 500)])
        tell_counts(session, [count(4, later_h=-1)])
    with reading(engine) as session:
        counts = read_counts(session)
        assert counts.bags("a", 1000) == 4
        assert counts.bags("a", 500) == 3
        assert counts.get("a", 1000, "ward") == count(4, later_h=-1)
        assert read_counted_of(session, "a", most=2) == (count(4, later_h=-1), count(3, 500))


def test_a_file_is_told_once_and_does_not_undo_a_later_count(engine: Engine) -> None:
    with transaction(engine) as session:
        assert tell_counts_once(session, [count(9), count(3, 500)]) == 2
        tell_counts(session, [count(1, later_h=1)])
        assert tell_counts_once(session, [count(9), count(3, 500)]) == 0
        assert read_counts(session).bags("a", 1000) == 1


def test_a_count_without_a_zone_is_not_kept(engine: Engine) -> None:
    naive = BagCount("a", 1000, "ward", 1, NOW.replace(tzinfo=None))
    with pytest.raises(Exception, match="without a zone"), transaction(engine) as session:
        tell_counts(session, [naive])
