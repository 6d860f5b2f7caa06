"""Whatever is out or withdrawn, no reply offers it, and advice that names it says so."""

import json
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from app.catalogue.stock.stock import State, Stock, StockState
from app.cautions.phrases import ASIDE
from app.review.measured.score import Vignette
from app.review.reply import reply_of
from app.review.workflow import review_request
from tests.cases.score import cases
from tests.conftest import NOW
from tests.property.test_review import KNOWN, QUICK

CASES = cases()
NAMES = {fluid.id: fluid.name for fluid in KNOWN.catalogue}
GONE: tuple[State, ...] = ("out", "withdrawn")
THERE: tuple[State, ...] = ("on the ward", "in pharmacy", "short")


def findings(case: Vignette, stock: Stock) -> list[dict[str, Any]]:
    review = review_request(case.request, KNOWN, now=NOW)
    reply = reply_of(review, KNOWN.catalogue, KNOWN.ruleset, KNOWN.vehicles, stock)
    of_orders = (found for order in reply["orders"] for found in order["findings"])
    return [*of_orders, *reply["patient_findings"]]


def offered(case: Vignette, stock: Stock) -> dict[str, None]:
    ways = (way for found in findings(case, stock) for way in found["alternatives"])
    return dict.fromkeys(way["fluid_id"] for way in ways)


@st.composite
def stocks(draw: st.DrawFn) -> tuple[Vignette, Stock]:
    """A case, and a stock from which most of what would be offered is gone."""
    case = draw(st.sampled_from(CASES))
    anything = st.sets(st.sampled_from(sorted(NAMES)), max_size=30)
    gone, there = draw(anything), draw(anything)
    usual = list(offered(case, Stock()))
    gone |= set(usual[: draw(st.integers(0, len(usual)))])
    told = {key: StockState(draw(st.sampled_from(THERE))) for key in there}
    told |= {key: StockState(draw(st.sampled_from(GONE))) for key in gone}
    return case, Stock(told)


@QUICK
@given(stocks())
def test_what_is_gone_is_never_offered(drawn: tuple[Vignette, Stock]) -> None:
    case, stock = drawn
    for found in findings(case, stock):
        for way in found["alternatives"]:
            assert stock.may_offer(way["fluid_id"]), (case.id, found["rule_id"])
            assert way["stock"] == stock.of(way["fluid_id"]).as_data()
            told = json.dumps(way["why"])
            gone = [name for key, name in NAMES.items() if not stock.may_offer(key)]
            assert not [name for name in gone if name in told], (case.id, found["rule_id"])


@QUICK
@given(st.sampled_from(CASES), st.sampled_from(GONE))
def test_with_everything_gone_nothing_is_offered_and_every_name_in_advice_says_so(
    case: Vignette, state: State
) -> None:
    for found in findings(case, Stock(dict.fromkeys(NAMES, StockState(state)))):
        assert found["alternatives"] == []
        advice, _, lacks = found["do"].partition(" Here ")
        if any(ASIDE.sub("", name) in advice for name in NAMES.values()):
            assert f"is {state}." in lacks


@QUICK
@given(st.sampled_from(CASES))
def test_stock_that_lacks_nothing_offers_as_many_ways_out(case: Vignette) -> None:
    usual = [len(found["alternatives"]) for found in findings(case, Stock())]
    told = Stock(dict.fromkeys(NAMES, StockState("in pharmacy")))
    assert [len(found["alternatives"]) for found in findings(case, told)] == usual
