"""Bags counted: the newest of each size and place counts, and what nobody counted is not none."""

from datetime import UTC, datetime

import pytest

from app.catalogue.catalogue import Catalogue
from app.catalogue.fluid import Fluid
from app.catalogue.stock.counts import NOTHING_COUNTED, BagCount, Counts, Place

NOW = datetime(2031, 3, 4, 7, 5, tzinfo=UTC)


@pytest.fixture
def saline(catalogue: Catalogue) -> Fluid:
    fluid = catalogue.get("sodium-chloride-0.9")
    assert fluid is not None
    return fluid


def count(size: int, place: Place, bags: int) -> BagCount:
    return BagCount("sodium-chloride-0.9", size, place, bags, NOW, "J.B.")


def test_ward_and_pharmacy_are_added_and_a_later_count_takes_an_earlier_ones_place(
    saline: Fluid,
) -> None:
    counts = Counts.of([count(1000, "ward", 9), count(1000, "pharmacy", 30),
                        count(1000, "ward", 4), count(500, "ward", 2)])  # fmt: skip
    assert counts.bags(saline.id, 1000) == 34
    assert [one.place for one in counts.of_size(saline.id, 1000)] == ["ward", "pharmacy"]
    assert counts.litres(saline) == pytest.approx(35)
    assert counts.litres(saline, (500,)) == pytest.approx(1)


def test_what_nobody_counted_is_not_known_and_not_none(saline: Fluid) -> None:
    assert NOTHING_COUNTED.bags(saline.id, 1000) is None
    assert NOTHING_COUNTED.litres(saline) is None
    assert not NOTHING_COUNTED.none_left(saline)
    assert NOTHING_COUNTED.not_counted(saline) == saline.pack_sizes_ml
    one = Counts.of([count(1000, "ward", 0)])
    assert one.litres(saline) == 0
    assert one.not_counted(saline) == (250, 500)


def test_none_is_left_only_when_every_size_was_counted_as_none(saline: Fluid) -> None:
    sizes = saline.pack_sizes_ml
    none = [count(size, "ward", 0) for size in sizes]
    assert Counts.of(none).none_left(saline)
    assert not Counts.of(none[:-1]).none_left(saline)
    assert not Counts.of([*none, count(sizes[0], "pharmacy", 1)]).none_left(saline)
