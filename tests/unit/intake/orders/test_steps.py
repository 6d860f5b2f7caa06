"""An order of several steps, each as an order of its own."""

from datetime import UTC, datetime, timedelta

import pytest

from app.chemistry.composition import Composition
from app.intake.orders.steps import is_part_of, parted
from app.intake.rates import flow_of_words
from app.patient.order import AdditiveDose, Order

NOW = datetime(2031, 3, 4, 7, tzinfo=UTC)


def parts(words: str, volume_ml: float | None = None, **fields: object) -> tuple[Order, ...]:
    """The parts of an order with these words."""
    order = Order("o1", "saline", None, volume_ml=volume_ml, **fields)  # type: ignore[arg-type]
    return parted(order, flow_of_words(words, None).steps, NOW)


def test_an_order_without_steps_stays_one() -> None:
    (order,) = parts("125 mL/h")
    assert order.id == "o1" and order.starts_at is None


def test_each_step_starts_when_the_one_before_is_done() -> None:
    first, second = parts("250/h x 2h then 125/h")
    assert (first.rate_ml_h, first.duration_h, first.volume_ml) == (250, 2, 500)
    assert first.stated_duration
    assert (second.id, second.rate_ml_h, second.duration_h) == ("o1, then", 125, None)
    assert second.starts_at == NOW + timedelta(hours=2) and second.follows


def test_a_bolus_before_it_does_not_hold_it_up() -> None:
    bolus, after = parts("500 mL bolus then 150/h")
    assert bolus.is_bolus and bolus.volume_ml == 500
    assert not after.is_bolus and after.starts_at is None


def test_a_step_of_no_volume_is_the_orders_bag() -> None:
    first, second = parts("4 hourly x 2 then 8 hourly", 1000)
    assert (first.rate_ml_h, first.duration_h) == (250, 8)
    assert second.rate_ml_h == 125 and second.starts_at == NOW + timedelta(hours=8)


def test_what_follows_a_step_of_unknown_length_is_asked_about() -> None:
    (only,) = parts("125 mL/h then 83 mL/h")
    assert "how long" in only.questions[0].ask and only.questions[0].minor


def test_a_bag_of_known_volume_tells_how_long_the_first_step_is() -> None:
    _, second = parts("125 mL/h then 83 mL/h", 1000)
    assert second.starts_at == NOW + timedelta(hours=8)


def test_a_part_of_the_bag_holds_its_share_of_what_was_added() -> None:
    dose = AdditiveDose("potassium_chloride", Composition(potassium_mmol_l=40), "40 mmol")
    first, second = parts("250/h x 2h then 125/h", 1000, additives=(dose,))
    assert first.additives[0].added.potassium_mmol_l == pytest.approx(20)
    assert second.additives[0].added.potassium_mmol_l == 40


def test_a_later_step_belongs_to_its_order_and_to_no_other() -> None:
    assert is_part_of("o1", "o1") and is_part_of("o1, then", "o1")
    assert not is_part_of("o12, then", "o1")
