"""Not told is neither here nor gone; out and withdrawn are never offered."""

from datetime import UTC, datetime

import pytest

from app.catalogue.stock.stock import NOT_TOLD, NOTHING_TOLD, STATES, State, Stock, StockState

SINCE = datetime(2031, 3, 4, 5, 40, tzinfo=UTC)


@pytest.mark.parametrize(
    ("state", "offered"),
    [
        ("on the ward", True), ("in pharmacy", True), ("short", True), ("not told", True),
        ("out", False), ("withdrawn", False),
    ],
)  # fmt: skip
def test_only_what_can_be_had_or_may_be_there_is_offered(state: State, offered: bool) -> None:
    assert Stock({"a": StockState(state)}).may_offer("a") == offered


def test_nothing_told_offers_everything() -> None:
    assert NOTHING_TOLD.of("a") == NOT_TOLD
    assert NOTHING_TOLD.may_offer("a")
    assert not NOT_TOLD.is_known


def test_the_ward_goes_before_pharmacy_and_what_is_short_goes_last() -> None:
    stock = Stock({state: StockState(state) for state in STATES})
    assert stock.rank("on the ward") < stock.rank("in pharmacy") < stock.rank("short")
    assert stock.rank("in pharmacy") == stock.rank("not told") == stock.rank("never heard of")
    assert stock.rank("short") < stock.rank("out") == stock.rank("withdrawn")


def test_a_state_is_told_outside_with_its_moment_or_with_none() -> None:
    out = StockState("out", SINCE, "lorry late", "J.B.")
    assert out.as_data() == {
        "state": "out", "since": "2031-03-04T05:40:00+00:00", "note": "lorry late", "by": "J.B.",
    }  # fmt: skip
    assert NOT_TOLD.as_data() == {"state": "not told", "since": None, "note": "", "by": ""}
