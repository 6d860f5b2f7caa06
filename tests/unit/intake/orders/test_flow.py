"""An order's rate, volume and duration from its coded figures and its words."""

from datetime import UTC, datetime, timedelta
from typing import Any

import pytest

from app.intake.orders.flow import finished, read_flow, with_times
from app.intake.pace.heard import Body
from app.intake.rates import NOTHING, Flow, flow_of_words
from app.intake.request import Problems, Reader

WEIGHT_KG = 70.0
NOW = datetime(2031, 3, 4, 7, tzinfo=UTC)


def flow(weight_kg: float | None = WEIGHT_KG, **fields: Any) -> tuple[Flow, Problems]:  # noqa: ANN401
    """An order's flow and what was asked."""
    problems, body = Problems(), Body(weight_kg)
    reader = Reader(fields, "o", problems)
    return finished(read_flow(reader, body, NOTHING), reader, body), problems


def test_each_of_the_three_follows_from_the_other_two() -> None:
    assert flow(volume_ml=1000, duration_h=8)[0].rate_ml_h == 125
    assert flow(rate_ml_h=125, duration_h=8)[0].volume_ml == 1000
    assert flow(rate_ml_h=125, volume_ml=1000)[0].duration_h == 8


def test_words_that_disagree_with_the_coded_rate_are_asked_about() -> None:
    read, problems = flow(rate_ml_h=80, rate_text="20 mL/h")
    assert read.rate_ml_h == 80
    assert "20" in problems.questions[0].ask and "80" in problems.questions[0].ask


def test_a_rate_text_not_understood_is_asked_about() -> None:
    read, problems = flow(rate_text="as charted")
    assert read.rate_ml_h is None and problems.questions[0].field == "o.rate_text"
    assert not problems.questions[0].minor


def test_beside_a_coded_rate_words_not_understood_are_asked_about_softly_or_not() -> None:
    assert not flow(rate_ml_h=100, rate_text="see chart")[1].questions
    (question,) = flow(rate_ml_h=100, rate_text="7F line")[1].questions
    assert question.minor


def test_how_something_was_read_is_said_softly() -> None:
    read, problems = flow(rate_text="50-150 mL/h")
    assert read.rate_ml_h == 150 and [q.minor for q in problems.questions] == [True]


@pytest.mark.parametrize(
    ("fields", "stated"),
    [({"duration_h": 8}, True), ({"volume_ml": 1000, "rate_ml_h": 125}, False),
     ({"order_text": "over 8 h", "volume_ml": 500}, True)],
)  # fmt: skip
def test_an_order_ends_only_where_its_length_is_written(
    fields: dict[str, Any], stated: bool
) -> None:
    assert flow(**fields)[0].stated_duration is stated


def test_three_litres_of_one_litre_bags_are_three_bags() -> None:
    read, problems = flow(volume_ml=1000, rate_text="3 L over 24 h")
    assert not problems.questions
    assert (read.rate_ml_h, read.volume_ml, read.bags, read.duration_h) == (125, 1000, 3, 24)


def test_a_coded_rate_may_be_that_of_any_step() -> None:
    text = "250/h x 2h then 125/h"
    assert not flow(rate_ml_h=125, rate_text=text)[1].questions
    assert "none of those" in flow(rate_ml_h=80, rate_text=text)[1].questions[0].ask


def test_every_nothing_hours_is_asked_about_and_breaks_nothing() -> None:
    read = flow_of_words("500 mL q0h", None)
    assert read.duration_h is None and any("cannot be meant" in ask for ask in read.asks)


def test_times_give_the_start_and_the_length() -> None:
    read, starts_at = with_times(flow_of_words("80 ml/h from 18:00 to 06:00", None), None, NOW)
    assert starts_at == NOW.replace(hour=18) and read.duration_h == 12 and read.stated_duration
    read, starts_at = with_times(flow_of_words("80 ml/h until 1900", None), None, NOW)
    assert starts_at is None and read.duration_h == 12


def test_a_coded_start_comes_before_that_of_the_words() -> None:
    coded = NOW + timedelta(hours=1)
    assert with_times(flow_of_words("80 ml/h from 18:00", None), coded, NOW)[1] == coded


def test_a_rate_of_nothing_is_asked_about_since_a_pump_that_stands_sends_it() -> None:
    read, problems = flow(rate_ml_h=0)
    assert read.rate_ml_h is None and not problems.errors
    assert "is it stopped" in problems.questions[0].ask


@pytest.mark.parametrize("name", ["rate_ml_h", "volume_ml", "duration_h"])
@pytest.mark.parametrize("value", [-1, 1e-308, 1e9, "many", False])
def test_a_figure_that_no_infusion_has_is_refused(name: str, value: object) -> None:
    read, problems = flow(**{name: value})
    assert getattr(read, name) is None and problems.errors[0].field == f"o.{name}"


def test_a_bag_in_words_beside_the_day_in_figures_is_no_contradiction() -> None:
    read, problems = flow(volume_ml=2000, duration_h=24, rate_text="1 L 12 hourly")
    assert not problems.questions and read.rate_ml_h == pytest.approx(83.3, abs=0.1)
