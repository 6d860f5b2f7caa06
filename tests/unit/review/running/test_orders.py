import pytest

from tests.conftest import NOW
from tests.unit.review.running.conftest import RunningIn, brought_ml

SALINE = {"fluid": "0.9% sodium chloride", "volume_ml": 1000, "rate_ml_h": 100}
ONE_BAG = {**SALINE, "duration_h": 10, "purpose": "replacement"}


def test_a_bag_that_has_run_four_hours_gives_what_is_left_of_it(running_in: RunningIn) -> None:
    running = running_in({**ONE_BAG, "starts_at": "2031-03-04T03:00:00Z"})
    assert brought_ml(running.loads) == pytest.approx(600)
    assert brought_ml(running.loads, 60) == pytest.approx(100)
    assert running.words == ("0.9% sodium chloride: 100 mL/h for 6 h, 600 mL of 1 L left",)


def test_a_bag_ends_with_the_hours_looked_ahead(running_in: RunningIn) -> None:
    (load,) = running_in(ONE_BAG, hours=4).loads
    assert (load.volume_l, load.duration_min) == (pytest.approx(0.4), 240)


def test_maintenance_goes_on_when_its_bag_is_empty(running_in: RunningIn) -> None:
    upkeep = {**ONE_BAG, "purpose": "maintenance", "starts_at": "2031-03-04T00:00:00Z"}
    running = running_in(upkeep)
    assert brought_ml(running.loads) == pytest.approx(2400)
    assert "renewed" in running.words[0]


def test_maintenance_whose_next_bag_is_ordered_is_not_renewed(running_in: RunningIn) -> None:
    first = {**ONE_BAG, "purpose": "maintenance", "starts_at": "2031-03-04T03:00:00Z"}
    second = {**first, "starts_at": "2031-03-04T13:00:00Z"}
    running = running_in(first, second)
    assert brought_ml(running.loads, 360) == pytest.approx(600)
    assert brought_ml(running.loads) == pytest.approx(600 + 1000)


def test_a_due_order_starts_when_it_is_due(running_in: RunningIn) -> None:
    running = running_in({**ONE_BAG, "starts_at": "2031-03-04T09:00:00Z"})
    (load,) = running.loads
    assert load.starts_min == 120 and brought_ml(running.loads) == pytest.approx(1000)
    assert "from 2 h on" in running.words[0]


def test_an_order_that_is_due_after_the_hours_looked_ahead_is_said(running_in: RunningIn) -> None:
    running = running_in({**ONE_BAG, "starts_at": "2031-03-04T15:00:00Z"}, hours=4)
    assert not running.loads and "is due in 8 h" in running.not_counted[0]


def test_a_bag_that_should_be_in_gives_nothing_more(running_in: RunningIn) -> None:
    running = running_in({**ONE_BAG, "starts_at": "2031-03-03T12:00:00Z"})
    assert not running.loads and "should be in by now" in running.not_counted[0]


def test_one_bag_after_another_is_given_in_turn(running_in: RunningIn) -> None:
    text = "1 L 0.9% sodium chloride over 8 h, then 1 L 5% glucose over 10 h"
    first, second = running_in({"order_text": text}).loads
    assert (first.starts_min, second.starts_min) == (0, first.duration_min)


def test_what_is_in_the_bag_runs_with_it(running_in: RunningIn) -> None:
    salt = {"substance": "potassium chloride", "amount": 40, "unit": "mmol"}
    (load,) = running_in({**ONE_BAG, "additives": [salt]}).loads
    assert load.composition.potassium_mmol_l == pytest.approx(40)
    assert load.composition.chloride_mmol_l == pytest.approx(194)


def test_a_drug_s_bag_is_given_as_often_as_the_drug(running_in: RunningIn) -> None:
    text = "meropenem 1 g in 100 mL 0.9% sodium chloride over 30 min q8h"
    running = running_in({"order_text": text})
    assert [load.starts_min for load in running.loads] == [0, 480, 960]
    assert brought_ml(running.loads) == pytest.approx(300)


@pytest.mark.parametrize(
    ("order", "why"),
    [
        ({**SALINE, "fluid": "mystery brew"}, "which fluid this is"),
        ({**SALINE, "fluid": "dextrose saline"}, "may mean"),
        ({"fluid": "0.9% sodium chloride", "volume_ml": 1000}, "no rate is written"),
        ({**SALINE, "fluid": "potassium chloride concentrate"}, "never hung"),
        (
            {**SALINE, "additives": [{"substance": "moondust", "amount": 3, "unit": "mmol"}]},
            "what was put into it",
        ),
    ],
)
def test_what_cannot_be_counted_says_why(
    running_in: RunningIn, order: dict[str, object], why: str
) -> None:
    running = running_in(order)
    assert not running.loads and not running.words
    assert why in running.not_counted[0]


def test_a_start_in_another_zone_is_the_same_moment(running_in: RunningIn) -> None:
    there = running_in({**ONE_BAG, "starts_at": "2031-03-04T10:00:00+01:00"})
    here = running_in({**ONE_BAG, "starts_at": "2031-03-04T09:00:00Z"})
    assert NOW.hour == 7 and there == here
