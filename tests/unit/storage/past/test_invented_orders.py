"""What runs into an invented patient."""

from datetime import UTC, datetime
from random import Random

import pytest

from app.storage.past.draw import Draw
from app.storage.past.invented_orders import access_of, beside_of, orders_of, upkeep_ml_h
from app.storage.past.stories import read_stories

AT = datetime(2031, 3, 4, 7, 5, tzinfo=UTC)


def draw(story: str, seed: str = "a", weight_kg: float = 20) -> Draw:
    stories = read_stories()
    found = next(one for one in stories.stories if one["name"] == story)
    return Draw(Random(seed), stories, found, AT, weight_kg)


@pytest.mark.parametrize(("weight_kg", "ml_h"), [(5, 20), (10, 40), (15, 50), (20, 60), (30, 70)])
def test_a_childs_upkeep_is_four_two_one(weight_kg: float, ml_h: float) -> None:
    assert upkeep_ml_h(weight_kg) == ml_h


def test_every_order_runs_by_a_line_the_patient_has() -> None:
    for seed in "abcdefgh":
        one = draw("sepsis", seed, 70)
        lines = access_of(one, "ICU")
        orders = orders_of(one, lines)
        assert {order["lumen"] for order in orders} <= {line["id"] for line in lines}
        assert [order["id"] for order in orders] == ["o1", "o2"][: len(orders)]


def test_two_orders_are_for_two_purposes() -> None:
    both = [orders_of(draw("sepsis", str(n), 70), [{"id": "x"}]) for n in range(60)]
    pairs = [orders for orders in both if len(orders) == 2 and "purpose" in orders[0]]
    assert pairs
    assert all(one["purpose"] != other.get("purpose") for one, other in pairs)


def test_a_childs_rates_and_boluses_go_by_weight() -> None:
    rates = {}
    for weight in (5, 40):
        made = (orders_of(draw("a newborn", str(n), weight), [{"id": "x"}])[0] for n in range(30))
        rates[weight] = [order["rate_ml_h"] for order in made]
    assert max(rates[5]) < min(rates[40]) * 4
    assert max(rates[5]) < max(rates[40])


def test_what_runs_beside_is_of_the_story() -> None:
    names = {
        one["name"]
        for n in range(60)
        for one in beside_of(draw("blood in theatre", str(n)), [{"id": "x"}])
    }
    assert names == set(draw("blood in theatre").story["beside"])
    assert beside_of(draw("a newborn"), [{"id": "x"}]) == []
