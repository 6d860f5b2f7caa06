"""How the words say that two infusions share a line."""

import pytest

from app.intake.bedside.arrangement import (
    arranged_by_orders,
    arrangement_of,
    beside_words,
    without_arrangement,
)
from app.patient.order import CoInfusion, Order


@pytest.mark.parametrize(
    "written",
    ["LR stopped, line flushed", "between flushes", "lactated Ringer's paused and flushed",
     "calcium between units", "in turn", "after flush", "flushed before and after",
     "line flushed well", "one at a time", "stopped for the transfusion, then flushed",
     "with a saline flush between", "Hartmann's off and line flushed with saline",
     "stop Hartmann's, flush with 0.9% sodium chloride before and after, then restart",
     "stop Hartmann's, flush, give, flush, restart", "flush pre & post", "do not y-site with it",
     "flush 20 mL either side", "not to be mixed with calcium", "then 10 mL flush"],
)  # fmt: skip
def test_one_after_the_other_with_a_flush_is_in_turn(written: str) -> None:
    assert arrangement_of(written) == "in turn"


@pytest.mark.parametrize(
    ("written", "arrangement"),
    [("line not flushed", ""), ("no flush before or after", ""), ("without a flush between", ""),
     ("never flushed before it", ""), ("via separate cannula", "separate"), ("Y-site", "together"),
     ("2 g over 30 min", ""), ("2 units", ""), ("y-site w/ Hartmans", "together"),
     ("Y-ed in with LR", "together"), ("via 3 way tap", "together"),
     ("same line, no flush", "together"),
     ("into side arm of the drip", "together"), ("added to the bag", "together"),
     ("in 250 mL bag", ""), ("piggyback into LR", "together"), ("2nd cannula", "separate"),
     ("on other arm", "separate"), ("not in same line as LR", "separate"),
     ("L arm, LR on R arm", "separate"), ("off for theatre", ""), ("dedicated PIV", "separate")],
)  # fmt: skip
def test_other_words_say_something_else(written: str, arrangement: str) -> None:
    assert arrangement_of(written) == arrangement


def test_the_name_stays_when_the_line_s_words_are_cut() -> None:
    assert without_arrangement("ceftriaxone 2 g, in turn").split() == ["ceftriaxone", "2", "g"]


@pytest.mark.parametrize(
    ("written", "beside"),
    [("ceftriaxone Y-site with Hartmann's over 30 min", "hartmanns"), ("piggyback into LR", "lr"),
     ("Y-site", ""), ("ceftriaxone 2 g", "")],
)  # fmt: skip
def test_what_shares_the_line_is_named(written: str, beside: str) -> None:
    assert beside_words(written) == beside


def test_the_fluid_beside_is_not_left_as_a_diluent() -> None:
    assert without_arrangement("ceftriaxone y-site with hartmanns").split() == ["ceftriaxone"]


CEFTRIAXONE = CoInfusion("ceftriaxone 2 g", "drug", key="ceftriaxone", lumen="p1")


def order_saying(text: str, lumen: str = "p1") -> Order:
    return Order("o1", "Hartmann's", None, lumen=lumen, text=text)


def test_an_order_that_stops_for_a_drug_and_flushes_gives_it_in_turn() -> None:
    order = order_saying("stop for ceftriaxone, flush before and after")
    (other,) = arranged_by_orders([CEFTRIAXONE], [order])
    assert other.arrangement == "in turn"


@pytest.mark.parametrize(
    "order",
    [order_saying("stop for the antibiotic of bed 3, flush before and after"),
     order_saying("with ceftriaxone"), order_saying("flush before and after ceftriaxone", "p2")],
)  # fmt: skip
def test_an_order_of_another_drug_or_line_arranges_nothing(order: Order) -> None:
    (other,) = arranged_by_orders([CEFTRIAXONE], [order])
    assert other.arrangement == ""


def test_two_drugs_on_the_lumen_are_not_arranged_by_the_order() -> None:
    order = order_saying("stop for ceftriaxone, flush before and after")
    calcium = CoInfusion("calcium gluconate", "drug", key="calcium_gluconate", lumen="p1")
    assert all(not o.arrangement for o in arranged_by_orders([CEFTRIAXONE, calcium], [order]))
