"""Fluids stand in the groups a ward thinks in."""

from datetime import UTC, datetime

import pytest

from app.catalogue.catalogue import Catalogue
from app.catalogue.stock.stock import Stock, StockState
from app.web.fluids.groups import (
    ALKALI,
    BALANCED,
    COLLOIDS,
    CONCENTRATES,
    GLUCOSE,
    POTASSIUM,
    SALINE,
    SUGARS,
    buffer_words,
    fluid_row,
    group_of,
    grouped,
    or_none,
)
from app.web.fluids.shelf import Shelf


@pytest.mark.parametrize(
    ("fluid_id", "group"),
    [
        ("lactated-ringers", BALANCED),
        ("ringers-injection", BALANCED),
        ("sodium-chloride-3", SALINE),
        ("dextrose-5-lactated-ringers", GLUCOSE),
        ("potassium-chloride-20-sodium-chloride-0.9", POTASSIUM),
        ("sodium-bicarbonate-8.4", ALKALI),
        ("albumin-20", COLLOIDS),
        ("mannitol-20", SUGARS),
        ("sterile-water", CONCENTRATES),
        ("potassium-chloride-concentrate", CONCENTRATES),
    ],
)
def test_each_fluid_has_its_group(catalogue: Catalogue, fluid_id: str, group: str) -> None:
    fluid = catalogue.get(fluid_id)
    assert fluid is not None
    assert group_of(fluid) == group


def test_every_fluid_is_listed_once(catalogue: Catalogue) -> None:
    listed = [row.id for group in grouped(catalogue) for row in group.rows]
    assert sorted(listed) == sorted(fluid.id for fluid in catalogue)


def test_what_is_absent_says_none_and_what_is_not_labelled_says_so(catalogue: Catalogue) -> None:
    saline, albumin = catalogue.get("sodium-chloride-0.9"), catalogue.get("albumin-20")
    assert saline is not None
    assert albumin is not None
    assert str(fluid_row(saline).calcium) == "none"
    assert str(fluid_row(albumin).chloride) == "not on the label"


def test_buffers_are_named(catalogue: Catalogue) -> None:
    fluid = catalogue.get("multiple-electrolytes-type-1-ph-7.4")
    assert fluid is not None
    assert buffer_words(fluid.composition) == "acetate 27, gluconate 23"


def test_an_amount_keeps_its_decimal_point_apart() -> None:
    assert (or_none(1.35).whole, or_none(1.35).fraction) == ("1", ".35")


def test_a_row_says_where_its_fluid_is(catalogue: Catalogue) -> None:
    now = datetime(2031, 3, 4, 7, 5, tzinfo=UTC)
    shelf = Shelf(Stock({"sodium-chloride-0.9": StockState("short", now, "six left")}), now)
    rows = {row.id: row for group in grouped(catalogue, shelf) for row in group.rows}
    assert rows["sodium-chloride-0.9"].stock.words == "short since 07:05"
    assert rows["sodium-chloride-0.45"].stock.words == ""
