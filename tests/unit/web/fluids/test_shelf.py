"""Where a fluid is, in words a nurse would say."""

from datetime import UTC, datetime, timedelta

from fastapi import FastAPI

from app.catalogue.catalogue import Catalogue
from app.catalogue.stock.stock import NOT_TOLD, NOTHING_TOLD, Stock, StockState
from app.storage.database import reading
from app.web.fluids.shelf import Shelf, StockView, lack_words, shelf_of, stock_view

NOW = datetime(2031, 3, 4, 7, 5, tzinfo=UTC)
OUT = StockState("out", NOW - timedelta(hours=1), "lorry late", "J.B.")


def test_a_state_is_said_with_since_when_why_and_by_whom() -> None:
    assert stock_view(OUT, NOW) == StockView(
        "out since 06:05", "Lorry late. Told by J.B.", gone=True
    )
    yesterday = StockState("in pharmacy", NOW - timedelta(days=1))
    assert stock_view(yesterday, NOW) == StockView("in pharmacy since Mon 3 Mar 07:05")


def test_of_what_nobody_told_nothing_is_said() -> None:
    assert stock_view(NOT_TOLD, NOW).words == ""
    assert stock_view(StockState("not told", NOW, "miscounted"), NOW) == StockView(
        why="Miscounted."
    )


def test_only_an_ordered_fluid_that_cannot_be_had_is_spoken_of(catalogue: Catalogue) -> None:
    fluid = catalogue.get("dextrose-5")
    said = lack_words(fluid, Stock({"dextrose-5": OUT}), NOW)
    assert said == "5% dextrose (US): out since 06:05. Lorry late."
    short = Stock({"dextrose-5": StockState("short", NOW, "six left")})
    assert lack_words(fluid, short, NOW) == ""
    assert lack_words(fluid, NOTHING_TOLD, NOW) == ""
    assert lack_words(None, Stock({"dextrose-5": OUT}), NOW) == ""


def test_a_shelf_is_that_of_the_unit_at_its_own_moment(app: FastAPI) -> None:
    with reading(app.state.engine) as session:
        shelf = shelf_of(session)
    assert shelf.view("multiple-electrolytes-type-1-ph-7.4").words == "out since 05:40"
    assert Shelf().view("multiple-electrolytes-type-1-ph-7.4") == StockView()
