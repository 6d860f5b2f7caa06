import pytest

from app.patient.order import Order


def order(**given: object) -> Order:
    return Order(id="o1", written="0.9% sodium chloride", fluid=None, **given)  # type: ignore[arg-type]


def test_an_open_ended_order_runs_the_whole_day() -> None:
    assert order(rate_ml_h=125.0, volume_ml=1000.0).litres_per_day == pytest.approx(3.0)


def test_an_order_that_ends_gives_no_more_than_its_volume() -> None:
    ends = order(rate_ml_h=125.0, volume_ml=1000.0, stated_duration=True)
    assert ends.litres_per_day == pytest.approx(1.0)


def test_an_order_that_ends_after_a_day_gives_a_day_of_it() -> None:
    slow = order(rate_ml_h=20.0, volume_ml=1000.0, stated_duration=True)
    assert slow.litres_per_day == pytest.approx(0.48)


def test_an_order_without_rate_gives_its_volume_or_nothing_known() -> None:
    assert order(volume_ml=500.0).litres_per_day == pytest.approx(0.5)
    assert order().litres_per_day is None


def test_potassium_each_hour_follows_the_rate() -> None:
    assert order(rate_ml_h=125.0).per_hour(40.0) == pytest.approx(5.0)
    assert order().per_hour(40.0) is None
