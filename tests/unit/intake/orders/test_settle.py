"""What is settled once all of an order is known."""

import pytest

from app.intake.orders.settle import complete, settled, with_bags
from app.intake.pace.heard import Body
from app.intake.rates import Flow, flow_of_words

ADULT = Body(70.0)


def test_each_of_the_three_follows_from_the_other_two() -> None:
    assert complete(Flow(volume_ml=1000, duration_h=8)).rate_ml_h == 125
    assert complete(Flow(rate_ml_h=125, duration_h=8)).volume_ml == 1000
    assert complete(Flow(rate_ml_h=125, volume_ml=1000)).duration_h == 8


def test_a_contradiction_is_asked_about_and_the_rate_is_used() -> None:
    flow, asks, _ = settled(Flow(100, 1000, 4), ADULT)
    assert flow.rate_ml_h == 100 and flow.duration_h == 10
    assert "400 mL" in asks[0] and "1000 mL" in asks[0]


def test_a_bag_not_quite_emptied_is_no_contradiction_unless_its_own_time_is_written() -> None:
    assert not settled(Flow(100, 1000, 8), ADULT)[1]
    assert settled(Flow(100, 1000, 8, of_bag=True), ADULT)[1]


def test_a_days_rate_that_needs_several_bags_is_no_contradiction() -> None:
    assert not settled(Flow(83, 1000, 24), ADULT)[1]
    assert settled(Flow(125, 1000, 12, of_bag=True), ADULT)[1]


def test_a_childs_bag_that_outlasts_the_plan_is_no_contradiction() -> None:
    flow, asks, _ = settled(Flow(23, 500, 12), Body(7.0))
    assert not asks and flow.duration_h == 12
    assert settled(Flow(23, 500, 12), ADULT)[1]


@pytest.mark.parametrize(
    ("bare", "weight_kg", "read"),
    [
        (125, 70, True), (83, None, True), (8, 70, False), (12, None, False), (24, 70, False),
        (1000, 70, False), (9, 3, True), (12, 3, True), (60, 12, False), (25, 8, True),
        (8, 8, False), (300, 8, False),
    ],
)  # fmt: skip
def test_a_bare_number_is_mL_an_hour_where_nothing_else_fits_the_patient(
    bare: float, weight_kg: float | None, read: bool
) -> None:
    flow, asks, notes = settled(Flow(bare=bare), Body(weight_kg))
    assert (flow.rate_ml_h == bare, bool(notes), bool(asks)) == (read, read, not read)


def test_a_bare_number_that_repeats_what_is_known_is_no_doubt() -> None:
    assert settled(Flow(volume_ml=1000, duration_h=8, bare=8), ADULT)[1:] == ((), ())
    assert settled(Flow(volume_ml=1000, duration_h=8, bare=60), ADULT)[2]


@pytest.mark.parametrize(
    ("over", "is_bolus", "hours"),
    [(8, False, 8), (4, False, 4), (90, False, 1.5), (15, True, 0.25), (15, False, None),
     (30, False, None), (7, False, None)],
)  # fmt: skip
def test_over_a_bare_number_is_hours_or_minutes_or_asked_about(
    over: float, is_bolus: bool, hours: float | None
) -> None:
    flow, asks, _ = settled(Flow(volume_ml=1000, bare_over=over, is_bolus=is_bolus), ADULT)
    assert flow.duration_h == hours and bool(asks) is (hours is None)


def test_what_keeps_a_vein_open_is_counted_small_and_said() -> None:
    flow, _, notes = settled(Flow(keeps_open=True), ADULT)
    assert flow.rate_ml_h == 20 and "local policy" in notes[0]
    assert settled(Flow(keeps_open=True), Body(4.0))[0].rate_ml_h == 2
    assert settled(Flow(keeps_open=True, bare=10), ADULT)[0].rate_ml_h == 10


def test_what_is_wanted_for_a_rate_is_asked_only_without_one() -> None:
    drops = flow_of_words("28 drops/min", None)
    assert settled(drops, ADULT)[1]
    assert not settled(complete(Flow(volume_ml=1000, duration_h=12, wants=drops.wants)), ADULT)[1]
    assert not settled(Flow(by_losses=True, wants=("At what rate?",)), ADULT)[1]


def test_what_is_given_as_needed_with_no_rate_is_a_bolus() -> None:
    assert settled(Flow(volume_ml=250, as_needed=True), ADULT)[0].is_bolus
    assert not settled(Flow(100, 250, as_needed=True), ADULT)[0].is_bolus


def test_several_bags_last_several_times_as_long() -> None:
    flow = with_bags(Flow(125, 500, bags=2))
    assert (flow.duration_h, flow.volume_ml, flow.stated_duration) == (8, 500, True)


def test_steps_are_settled_one_by_one_elsewhere() -> None:
    flow = flow_of_words("250/h x 2h then 125/h", None)
    assert settled(flow, ADULT) == (flow, (), ())


def test_half_a_day_at_250_from_one_litre_is_asked_about() -> None:
    flow, asks, _ = settled(Flow(250, 1000, 12), ADULT)
    assert flow.duration_h == 4 and "3000 mL" in asks[0]
