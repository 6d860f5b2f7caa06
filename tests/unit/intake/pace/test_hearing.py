"""The words of one step of an order, heard."""

import pytest

from app.intake.pace.heard import Body
from app.intake.pace.hearing import hear
from app.intake.pace.spelling import plain

CHILD = Body(20.0)


@pytest.mark.parametrize(
    ("written", "rate"),
    [("full maintenance", 60), ("2/3 maintenance", 40), ("1.5x maintenance", 90),
     ("80% maintenance", 48), ("two-thirds maintenance", 40),
     ("80% of full maintenance", 48), ("4-2-1 rule", 60), ("half maintenance", 30)],
)  # fmt: skip
def test_a_share_of_maintenance_is_worked_out_and_said(written: str, rate: float) -> None:
    heard = hear(plain(written), CHILD)
    assert heard.rates == [pytest.approx(rate)] and "4-2-1" in heard.notes[0]


@pytest.mark.parametrize("body", [Body(), Body(2.5)])
def test_no_share_is_worked_out_without_a_weight_or_for_a_newborn(body: Body) -> None:
    heard = hear("full maintenance", body)
    assert not heard.rates and heard.wants


@pytest.mark.parametrize("written", ["125", "titrate 50-150", "IVF 75", "at 60", "TKVO 10"])
def test_a_number_alone_is_kept_for_who_knows_the_patient(written: str) -> None:
    assert hear(plain(written), CHILD).bare


def test_a_number_beside_other_figures_is_none_that_stands_alone() -> None:
    assert hear("1 l over 8 h room 12", CHILD).bare is None


@pytest.mark.parametrize("written", ["80?/h", "125/h?? check"])
def test_a_question_mark_behind_a_figure_is_asked_about(written: str) -> None:
    heard = hear(plain(written), CHILD)
    assert heard.asks and heard.rates


def test_a_question_before_a_word_is_none_of_the_rate() -> None:
    assert not hear(plain("125/h ?sepsis"), CHILD).asks


@pytest.mark.parametrize(
    ("written", "asked"),
    [("125 mL/min", True), ("125 mL/min under pressure", False), ("2 mL/min", False)],
)
def test_a_rate_by_the_minute_that_is_usual_by_the_hour_is_asked_about(
    written: str, asked: bool
) -> None:
    assert bool(hear(plain(written), CHILD).asks) is asked


def test_what_is_shared_with_feeds_is_asked_about() -> None:
    assert hear("120 ml/kg/day minus feeds", CHILD).asks
