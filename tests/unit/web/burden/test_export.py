"""Burden and marks as files."""

import csv
from datetime import UTC, datetime

import pytest

from app.review.replay.count import Count
from app.storage.samples.samples import Item, Mark
from app.web.burden.export import figures_csv, marks_csv, plain_cell

NOW = datetime(2026, 11, 25, 12, tzinfo=UTC)
HERE = ("2031-03-01", "ICU", "day")


@pytest.mark.parametrize(
    "cell",
    ["=1+1", "+cmd", "-2", "@SUM(A1)", "\t=1", "\r=1", "\n=1", "  =1", "＝1", '=HYPERLINK("x")'],
)
def test_no_cell_becomes_a_formula(cell: str) -> None:
    assert plain_cell(cell) == f"'{cell}"


@pytest.mark.parametrize("cell", ["k-hyper", "potassium 6.1 = high", "", "2031-03-01", "a -b"])
def test_other_words_stay_as_they_are(cell: str) -> None:
    assert plain_cell(cell) == cell


def test_numbers_stay_numbers() -> None:
    assert plain_cell(-3) == -3
    assert plain_cell(2.5) == 2.5


def test_a_place_where_nothing_was_said_is_in_the_file() -> None:
    count = Count(
        orders={HERE: 4, ("2031-03-02", "ED", "day"): 3},
        found={(*HERE, "k-hyper", "critical"): 2},
    )
    rows = list(csv.DictReader(figures_csv(count).splitlines()))
    assert [(r["setting"], r["rule"], r["findings"], r["orders"]) for r in rows] == [
        ("ICU", "k-hyper", "2", "4"), ("ED", "", "0", "3"),
    ]  # fmt: skip


def test_marks_are_told_without_names_and_only_once_both_have_marked() -> None:
    told = {"title": "=Potassium 6.1"}
    marks = tuple(
        Mark(verdict, reason, NOW, "Rosa Alder", who)  # type: ignore[arg-type]
        for who, verdict, reason in (("a", "useful", "=cmd|x"), ("b", "wrong", "no"))
    )
    both = Item(1, 5, 1, 7, "k-hyper", ("o1",), "critical", told, marks)
    once = Item(2, 5, 2, 8, "k-hyper", ("o1",), "critical", told, marks[:1])
    text = marks_csv([(5, both), (5, once)])
    rows = list(csv.DictReader(text.splitlines()))
    assert len(rows) == 1
    assert (rows[0]["first"], rows[0]["second"]) == ("useful", "wrong")
    assert rows[0]["first_reason"] == "'=cmd|x"
    assert rows[0]["finding"].startswith("'=")
    assert "Alder" not in text
