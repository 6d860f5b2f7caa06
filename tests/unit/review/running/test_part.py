import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.chemistry.composition import Composition
from app.review.running.part import dose_times, every, given_at, left_out, running

SALINE = Composition(sodium_mmol_l=154, chloride_mmol_l=154)


def test_an_even_flow_brings_its_rate_times_its_time() -> None:
    load = running(SALINE, 120.0, (30.0, 90.0))
    assert (load.volume_l, load.starts_min, load.duration_min) == (0.12, 30.0, 60.0)


def test_a_push_takes_a_minute() -> None:
    (load,) = given_at(SALINE, 20.0, 0.0, (5.0,))
    assert (load.volume_l, load.starts_min, load.duration_min) == (0.02, 5.0, 1.0)


def test_three_doses_a_day_are_eight_hours_apart_and_the_first_is_now() -> None:
    assert dose_times(3, 1440) == (0.0, 480.0, 960.0)
    assert dose_times(3, 240) == (0.0,)


def test_a_dose_every_other_day_is_one_dose() -> None:
    assert dose_times(0.5, 1440) == (0.0,)


@given(st.floats(0.1, 48), st.floats(30, 1440))
def test_no_dose_is_given_after_the_time_looked_ahead(doses: float, ahead_min: float) -> None:
    times = dose_times(doses, ahead_min)
    assert times[0] == 0.0 and times[-1] < ahead_min
    assert len(times) <= max(1.0, doses * ahead_min / 1440 + 1)


@pytest.mark.parametrize(
    ("doses", "words"),
    [(1, "one from now"), (3, "every 8 h, the first now"), (4, "every 6 h, the first now")],
)
def test_how_often_is_said(doses: float, words: str) -> None:
    assert every(doses) == words


def test_what_is_left_out_brings_nothing_and_says_why() -> None:
    part = left_out("Insulin", "no rate in mL/h is written")
    assert part.loads == () and part.words == ""
    assert part.not_counted == ("Insulin: no rate in mL/h is written",)
