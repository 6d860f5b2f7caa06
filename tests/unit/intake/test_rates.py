"""Rate, volume and duration from words."""

import pytest

from app.intake.orders.settle import complete
from app.intake.rates import NOTHING, flow_of_words

WEIGHT_KG = 70.0


@pytest.mark.parametrize(
    ("written", "rate", "volume", "duration"),
    [
        ("125 ml/hr", 125, None, None), ("125mL/h", 125, None, None),
        ("80 ml per hour", 80, None, None), ("80 mls/hour", 80, None, None),
        ("5 mL/min", 300, None, None), ("3 L/24 h", 125, None, None), ("3 L/day", 125, None, None),
        ("2 mL/kg/h", 140, None, None), ("100 mL/kg/day", 291.67, None, None),
        ("over 8 h", None, None, 8), ("8 hourly", None, None, 8), ("8-hourly", None, None, 8),
        ("q8h", None, None, 8), ("every 6 hours", None, None, 6),
        ("1 L over 30 min", 2000, 1000, 0.5), ("500 mL over half an hour", 1000, 500, 0.5),
        ("bolus 500 mL over 15 min", 2000, 500, 0.25), ("2L over 24 hours", 83.33, 2000, 24),
        ("half a litre over 1 h", 500, 500, 1), ("10 mL/kg over 10 min", 4200, 700, 1 / 6),
        ("100 mL/h for 10 h", 100, 1000, 10), ("1 L q8h x3 bags", 125, 1000, 8),
        ("20 gtt/min (20 gtt/mL)", 60, None, None), ("1L 8/24", 125, 1000, 8),
        ("250 ml stat", None, 250, None), ("50 mL IV push", None, 50, None),
        ("75-125 mL/h", 125, None, None), ("over 4-6 h", None, None, 4),
        ("84 ml/hr (2 L per day)", 84, None, None), ("bolus 500", None, 500, None),
        ("overnight", None, None, 10), ("3 x 1 L over 24 h", 125, 1000, 8),
    ],
)  # fmt: skip
def test_words_give_rate_volume_and_duration(
    written: str, rate: float | None, volume: float | None, duration: float | None
) -> None:
    flow = complete(flow_of_words(written, WEIGHT_KG))
    assert flow.asks == ()
    expected = [None if f is None else pytest.approx(f, abs=0.01) for f in (rate, volume, duration)]
    assert [flow.rate_ml_h, flow.volume_ml, flow.duration_h] == expected


@pytest.mark.parametrize(
    "written", ["40-600 mL/h", "over 0 h", "40000 mL/h", "100 mL/h, 50 mL/h", "2 x 1 L over 4 h"]
)
def test_what_cannot_be_or_can_be_read_in_two_ways_is_asked_about(written: str) -> None:
    assert flow_of_words(written, WEIGHT_KG).asks


def test_a_rate_by_weight_wants_the_weight() -> None:
    flow = flow_of_words("2 mL/kg/h", None)
    assert flow.rate_ml_h is None and "weight" in flow.wants[0]


@pytest.mark.parametrize("written", ["", "see chart", "as directed", "slow"])
def test_words_that_say_nothing_of_it_are_nothing(written: str) -> None:
    assert flow_of_words(written, WEIGHT_KG) is NOTHING


@pytest.mark.parametrize(
    ("written", "is_bolus"),
    [("stat", True), ("500 mL bolus", True), ("fluid challenge", True), ("125 mL/h", False),
     ("wide open", True), ("100 mL/h, no boluses", False), ("100 mL/h after bolus", False),
     ("1 L stat over 8 h", False), ("STAT over 15 min", True),
     ("20 mL/kg over 20 min", True), ("3 mL/kg over 1 h", False)],
)  # fmt: skip
def test_a_bolus_is_heard(written: str, is_bolus: bool) -> None:
    assert flow_of_words(written, WEIGHT_KG).is_bolus is is_bolus


@pytest.mark.parametrize(
    ("written", "ends"),
    [("over 8 h", True), ("8-hourly", False), ("125 mL/h", False), ("1 L q8h x3 bags", True),
     ("500 mL bolus", True), ("999 ml/hr; once", True), ("75 ml/h x 1", True)],
)  # fmt: skip
def test_words_say_whether_the_order_ends(written: str, ends: bool) -> None:
    assert flow_of_words(written, None).stated_duration is ends


def test_several_steps_are_kept_and_the_first_is_the_flow() -> None:
    flow = flow_of_words("50 mL/h for 2 h then 100", WEIGHT_KG)
    assert flow.rate_ml_h == 50 and flow.duration_h == 2
    assert [step.rate_ml_h for step in flow.steps] == [50, 100]


def test_a_bolus_is_a_step_without_a_figure() -> None:
    flow = flow_of_words("stat then 8 hourly", WEIGHT_KG)
    assert [step.is_bolus for step in flow.steps] == [True, False]


def test_a_bag_given_so_often_a_day_is_so_many_bags() -> None:
    flow = flow_of_words("500 mL over 2 hours q6h", WEIGHT_KG)
    assert (flow.duration_h, flow.bags) == (2, 4)


@pytest.mark.parametrize(
    ("written", "name"),
    [("KVO", "keeps_open"), ("mL for mL", "by_losses"), ("250 mL PRN", "as_needed"),
     ("on hold", "not_given")],
)  # fmt: skip
def test_what_is_said_beside_the_figures_is_kept(written: str, name: str) -> None:
    assert getattr(flow_of_words(written, WEIGHT_KG), name)
