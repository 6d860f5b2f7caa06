"""What to do, and when sodium is measured again."""

from dataclasses import replace

import pytest

from app.web.pictures.curves import Result
from app.web.prediction.sodium.helps import (
    Bolus,
    again_words,
    brain_words,
    is_past,
    rescue_words,
    urine_words,
)
from app.web.prediction.sodium.leads import Lead
from tests.unit.web.prediction.sodium.test_limits import limits, person

PASSING = Lead("", "passes", "critical", 9.0, "rise_critical_mmol_l_day", near=True)


def test_the_sample_comes_at_half_the_way_to_a_limit_and_no_sooner_than_half_an_hour() -> None:
    day = limits(118)
    assert again_words(person(), [PASSING], day, None) == "Sodium again in 2 h."
    soon = replace(PASSING, hours=0.4)
    assert again_words(person(), [soon], day, None) == "Sodium again in 30 min."


def test_a_bolus_has_its_own_samples_whatever_else_is_near() -> None:
    said = again_words(person(), [PASSING], limits(112), Bolus(10))
    assert said.startswith("Sodium when the bolus is in (10 min), before another")


def test_past_a_limit_sodium_is_measured_now() -> None:
    day = limits(124, person(measured=(Result(-12, 112, "measured"),)))
    assert is_past(day)
    assert again_words(person(), [], day, None) == "Sodium now and again in 2 h."
    assert rescue_words([], day).startswith("Past the limit: stop this fluid")


def test_the_rescue_is_for_the_last_limit_alone() -> None:
    day = limits(118)
    assert rescue_words([PASSING], day).startswith("If it passes the limit")
    assert rescue_words([replace(PASSING, past="rise_mmol_l_day")], day) == ""


@pytest.mark.parametrize(("sodium", "said"), [(118, True), (140, False), (160, False)])
def test_urine_is_spoken_of_where_a_rise_has_limits(sodium: float, said: bool) -> None:
    assert bool(urine_words(person(), limits(sodium))) is said


def test_a_child_in_a_fit_gets_a_dose_by_weight() -> None:
    assert "2 mL/kg" in brain_words(person(age_years=6), limits(112))
