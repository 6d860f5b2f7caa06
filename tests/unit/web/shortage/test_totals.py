"""What is lost, what everybody turns to, and what saves, as rows."""

import math
from dataclasses import replace
from datetime import UTC, datetime
from types import MappingProxyType

import pytest

from app.catalogue.catalogue import Catalogue
from app.catalogue.fluid import Fluid
from app.catalogue.source import NO_SOURCE, Source
from app.catalogue.stock.counts import NOTHING_COUNTED, BagCount, Counts
from app.review.shortage.draws import Use
from app.review.shortage.lasting import Lasting, Turned
from app.review.shortage.loss import Loss
from app.review.shortage.rehearsal import Kept, Rehearsal
from app.web.shortage.totals import (
    count_or_unused,
    lost_rows,
    saving_rows,
    source_text,
    turned_rows,
    use_row,
)

NOW = datetime(2031, 3, 4, 7, 0, tzinfo=UTC)
LOSS = Loss({"sodium-chloride-0.9": frozenset()}, NOW)
NOBODY: Rehearsal[str] = Rehearsal(LOSS, (), (), (), (), (), ())


@pytest.fixture
def saline(catalogue: Catalogue) -> Fluid:
    fluid = catalogue.get("sodium-chloride-0.9")
    assert fluid is not None
    return fluid


@pytest.fixture
def counts(saline: Fluid) -> Counts:
    return Counts.of([BagCount(saline.id, 1000, "ward", 20, NOW)])


def use_of(fluid: Fluid, **more: int) -> Use:
    return Use(fluid, 2000.0, MappingProxyType({1000: 2.0}), **more)


def test_a_fluid_in_use_may_be_picked_whole_or_by_size(saline: Fluid, counts: Counts) -> None:
    row = use_row(use_of(saline, orders=2, carriers=1, not_counted=1), counts, NOW)
    assert row.keys[0] == (saline.id, saline.name)
    assert row.keys[1:] == tuple(
        (f"{saline.id}@{size}", f"only {size:,} mL") for size in (250, 500, 1000)
    )
    assert row.drawn == "2 orders, carries 1 drug"
    assert row.ml_day == "at least 2 L"
    assert row.days == "10 days"
    assert use_row(use_of(saline), NOTHING_COUNTED, NOW).days == ""


def test_a_lost_fluid_says_use_days_and_bags_needed(saline: Fluid, counts: Counts) -> None:
    one = Lasting(saline, (250, 500, 1000), use_of(saline), 20.0, (250, 500), 10.0,
                  MappingProxyType({1000: 10.0}))  # fmt: skip
    (row,) = lost_rows(replace(NOBODY, lasting=(one,)), counts, NOW)
    assert row.sizes == ""
    assert (row.ml_day, row.bags, row.needed) == ("2 L", "2 of 1,000 mL", "14 of 1,000 mL")
    assert row.days == "at least 10 days, to Fri 14 Mar"
    assert row.keep == ""


def test_one_size_lost_is_named(saline: Fluid, counts: Counts) -> None:
    loss = Loss({saline.id: frozenset({1000})}, NOW)
    one = Lasting(saline, (1000,), use_of(saline), 20.0, (), 10.0, MappingProxyType({1000: 10.0}))
    (row,) = lost_rows(replace(NOBODY, loss=loss, lasting=(one,)), counts, NOW)
    assert row.sizes == "only bags of 1,000 mL"
    assert row.days == "10 days, to Fri 14 Mar"


@pytest.mark.parametrize(("orders", "words"), [(1, "1 order has"), (3, "3 orders have")])
def test_for_whom_what_is_left_is_kept_is_said(saline: Fluid, orders: int, words: str) -> None:
    one = Lasting(saline, (), use_of(saline), 20.0, (), 10.0, MappingProxyType({}))
    kept = Kept(saline.id, orders, 500.0, 40.0)
    made = replace(NOBODY, lasting=(one,), kept=(kept,))
    (row,) = lost_rows(made, NOTHING_COUNTED, NOW)
    assert row.keep.startswith(f"{words} no substitute without a new critical caution")
    assert "take 500 mL a day; for them alone it lasts: 40 days, to" in row.keep


def test_a_substitute_that_runs_out_within_the_days_is_a_second_shortage(saline: Fluid) -> None:
    turned = Turned(saline, 2, 3000.0, MappingProxyType({1000: 3.0}), 1000.0, 12.0, 4.0, 3.0)
    (row,) = turned_rows([turned], LOSS, NOTHING_COUNTED, NOW)
    assert row.second
    assert (row.orders, row.ml_day, row.now) == ("2 orders", "3 L", "1 L")
    assert (row.days, row.alone, row.needed) == ("4 days, to Sat 8 Mar", "3 days", "21 of 1,000 mL")
    (later,) = turned_rows([replace(turned, days=7.0)], LOSS, NOTHING_COUNTED, NOW)
    assert not later.second


def test_savings_say_where_they_are_from_and_small_bags_are_warned_of_unless_allowed() -> None:
    rows = saving_rows(NOBODY)
    assert all(row.source for row in rows)
    assert rows[0].here == "No orders here."
    assert "Two bags of 500 mL" in rows[-1].words
    allowed = saving_rows(replace(NOBODY, loss=replace(LOSS, smaller=True)))
    assert len(allowed) == len(rows) - 1


@pytest.mark.parametrize(
    ("source", "text"),
    [
        (Source(NO_SOURCE), "common practice, no source"),
        (Source("A sheet", "page 2", seen=True), "A sheet (page 2)"),
        (Source("A sheet", seen=True), "A sheet (text seen)"),
        (Source("A sheet", "page 2"), "A sheet (from memory)"),
    ],
)
def test_a_source_says_whether_it_was_seen(source: Source, text: str) -> None:
    assert source_text(source) == text


def test_days_that_cannot_be_told_are_left_out() -> None:
    assert count_or_unused(None) == count_or_unused(math.inf) == ""
    assert count_or_unused(2.5) == "2.5 days"
