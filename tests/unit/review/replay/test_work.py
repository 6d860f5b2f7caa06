"""What a worker does."""

import gc
from collections.abc import Iterator

import orjson
import pytest

from app.review.knowledge import Knowledge
from app.review.replay.answer import Past
from app.review.replay.compare import Terms, compare
from app.review.replay.packed import pack
from app.review.replay.work import (
    Raw,
    count_part,
    count_prepared,
    opened,
    parts_of,
    past_of,
    prepare,
)
from tests.unit.review.replay.conftest import WithLimit


def raw(past: Past) -> Raw:
    return past.id, past.at, past.setting, orjson.dumps(past.request).decode()


@pytest.fixture
def collector() -> Iterator[None]:
    """The collector of objects as it was."""
    before = gc.get_threshold()
    yield
    gc.unfreeze()
    gc.set_threshold(*before)


def test_a_row_comes_back_as_the_request_it_was(month: tuple[Past, ...]) -> None:
    assert past_of(raw(month[0])) == month[0]


def test_parts_hold_all_in_order() -> None:
    rows: list[Raw] = [(n, None, "", "") for n in range(7)]  # type: ignore[misc]
    assert [[r[0] for r in part] for part in parts_of(rows, 3)] == [[0, 1, 2], [3, 4, 5], [6]]
    assert list(parts_of([], 3)) == []


@pytest.mark.usefixtures("collector")
def test_a_part_is_counted_alike_prepared_or_not(
    known: Knowledge, with_limit: WithLimit, month: tuple[Past, ...]
) -> None:
    other = with_limit("ord-water-total", "excess_ml_kg_day", 26)
    packed, part = pack(known, other), tuple(map(raw, month[:40]))
    prepare(packed)
    expected = compare(known, other, month[:40])
    assert count_prepared(Terms(), part) == expected
    assert count_part(packed, Terms(), part) == expected
    assert opened(packed) is opened(packed)
