"""Times of the day at which an order starts or ends."""

from datetime import UTC, datetime

import pytest

from app.intake.pace.clock import Clock, end_at, start_at, times_in

NOW = datetime(2031, 3, 4, 7, tzinfo=UTC)


@pytest.mark.parametrize(
    ("said", "starts", "ends"),
    [
        ("100 ml/h until 1900", None, 19), ("start at 2200 for 12h", 22, None),
        ("from 18:00 to 06:00", 18, 6), ("1 l 1800-0600", 18, 6), ("commence 10pm", 22, None),
        ("stop at 18:00", None, 18), ("until midnight", None, 0), ("till noon", None, 12),
        ("1000-1500 ml/h", None, None), ("from 1000 ml", None, None), ("over 8 h", None, None),
    ],
)  # fmt: skip
def test_a_clock_is_read_where_it_starts_or_ends_something(
    said: str, starts: int | None, ends: int | None
) -> None:
    times, _ = times_in(said)
    read = [None if c is None else c.minutes / 60 for c in (times.starts, times.ends)]
    assert read == [starts, ends]


def test_the_rest_of_the_words_is_left() -> None:
    assert times_in("100 ml/h until 1900")[1].strip(" ,") == "100 ml/h"


@pytest.mark.parametrize(
    ("clock", "day", "hour"),
    [(Clock(22 * 60), 4, 22), (Clock(6 * 60), 4, 6), (Clock(9 * 60, "tomorrow"), 5, 9),
     (Clock(8 * 60, figures=(3, 4)), 4, 8), (Clock(8 * 60, figures=(5, 3)), 5, 8),
     (Clock(8 * 60, figures=(31, 31)), 4, 8)],
)  # fmt: skip
def test_a_start_is_on_its_day_or_the_nearest(clock: Clock, day: int, hour: int) -> None:
    assert start_at(clock, NOW) == datetime(2031, 3, day, hour, tzinfo=UTC)


def test_an_hour_long_past_is_tomorrows() -> None:
    late = NOW.replace(hour=23)
    assert start_at(Clock(6 * 60), late).day == 5


def test_an_end_is_the_first_such_hour_after_the_start() -> None:
    assert end_at(Clock(6 * 60), NOW) == datetime(2031, 3, 5, 6, tzinfo=UTC)
    assert end_at(Clock(19 * 60), NOW) == datetime(2031, 3, 4, 19, tzinfo=UTC)
