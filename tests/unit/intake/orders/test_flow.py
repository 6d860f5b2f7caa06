"""An order's rate, volume and duration from its coded figures and its words."""

from typing import Any

import pytest

from app.intake.orders.flow import read_flow
from app.intake.rates import Flow, flow_of_words
from app.intake.request import Problems, Reader

WEIGHT_KG = 70.0


def flow(**fields: Any) -> tuple[Flow, Problems]:  # noqa: ANN401
    """An order's flow and what was asked."""
    problems = Problems()
    return read_flow(Reader(fields, "o", problems), WEIGHT_KG, Flow()), problems


def test_each_of_the_three_follows_from_the_other_two() -> None:
    assert flow(volume_ml=1000, duration_h=8)[0].rate_ml_h == 125
    assert flow(rate_ml_h=125, duration_h=8)[0].volume_ml == 1000
    assert flow(rate_ml_h=125, volume_ml=1000)[0].duration_h == 8


def test_a_contradiction_is_asked_about_and_the_rate_is_used() -> None:
    read, problems = flow(rate_ml_h=100, volume_ml=1000, duration_h=4)
    assert read.rate_ml_h == 100 and read.duration_h == 10
    assert "400 mL" in problems.questions[0].ask and "1000 mL" in problems.questions[0].ask


def test_a_bag_not_quite_emptied_is_no_contradiction() -> None:
    assert not flow(rate_ml_h=100, volume_ml=1000, duration_h=8)[1].questions


def test_a_days_rate_that_needs_several_bags_is_no_contradiction() -> None:
    assert not flow(rate_ml_h=83, volume_ml=1000, duration_h=24)[1].questions


def test_a_childs_bag_that_outlasts_the_plan_is_no_contradiction() -> None:
    problems = Problems()
    fields = {"rate_ml_h": 23, "volume_ml": 500, "duration_h": 12}
    read = read_flow(Reader(fields, "o", problems), 7, Flow())
    assert not problems.questions and read.duration_h == 12
    assert flow(**fields)[1].questions


def test_words_that_disagree_with_the_coded_rate_are_asked_about() -> None:
    read, problems = flow(rate_ml_h=80, rate_text="20 mL/h")
    assert read.rate_ml_h == 80
    assert "20" in problems.questions[0].ask and "80" in problems.questions[0].ask


def test_a_rate_text_not_understood_is_asked_about() -> None:
    read, problems = flow(rate_text="125")
    assert read.rate_ml_h is None and problems.questions[0].field == "o.rate_text"


@pytest.mark.parametrize(
    ("fields", "stated"),
    [({"duration_h": 8}, True), ({"volume_ml": 1000, "rate_ml_h": 125}, False),
     ({"order_text": "over 8 h", "volume_ml": 500}, True)],
)  # fmt: skip
def test_an_order_ends_only_where_its_length_is_written(
    fields: dict[str, Any], stated: bool
) -> None:
    assert flow(**fields)[0].stated_duration is stated


def test_every_nothing_hours_is_asked_about_and_breaks_nothing() -> None:
    flow = flow_of_words("500 mL q0h", None)
    assert flow.duration_h is None and any("cannot be meant" in ask for ask in flow.asks)


def test_a_rate_of_nothing_is_asked_about_since_a_pump_that_stands_sends_it() -> None:
    read, problems = flow(rate_ml_h=0)
    assert read.rate_ml_h is None and not problems.errors
    assert "is it stopped" in problems.questions[0].ask


@pytest.mark.parametrize("name", ["rate_ml_h", "volume_ml", "duration_h"])
@pytest.mark.parametrize("value", [-1, 1e-308, 1e9, "many", False])
def test_a_figure_that_no_infusion_has_is_refused(name: str, value: object) -> None:
    read, problems = flow(**{name: value})
    assert getattr(read, name) is None and problems.errors[0].field == f"o.{name}"
