"""A later step of an order that names a fluid of its own."""

from collections.abc import Callable, Mapping
from typing import Any

from app.patient.case import Case

Read = Callable[[Mapping[str, Any]], Case]


def test_the_next_bag_may_be_another_fluid_with_its_own_additive(read: Read) -> None:
    text = "0.9% sodium chloride 1 L over 8 h then 5% glucose 1 L with 20 mmol KCl over 8 h"
    first, second = read({"order_text": text}).orders
    assert first.fluid and first.fluid.id == "sodium-chloride-0.9" and not first.additives
    assert second.mix is not None and second.mix.sodium_mmol_l == 0
    assert second.mix.potassium_mmol_l == 20 and not first.questions


def test_the_same_bag_goes_on_where_none_is_named(read: Read) -> None:
    first, second = read({"order_text": "Hartmann's 1 L over 1 h then 125 mL/h"}).orders
    assert first.fluid == second.fluid


def test_a_next_bag_that_may_be_several_fluids_is_asked_about(read: Read) -> None:
    orders: Any = read({"order_text": "NS 1 L over 4 h then Ringer's 1 L over 8 h"}).orders
    assert any("Which fluid" in question.ask for question in orders[0].questions)
