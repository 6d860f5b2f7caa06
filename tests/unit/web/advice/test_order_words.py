"""An order in the words a nurse would read out."""

from collections.abc import Callable

import pytest

from app.review.assess import Review
from app.web.advice.order_words import bag_words, ends_at, order_words, read_back

Reviewed = Callable[..., Review]
ADULT = {"age_years": 60, "weight_kg": 70}
SALT = {"fluid": "0.9% sodium chloride", "volume_ml": 1000, "rate_ml_h": 125}
KCL = {"substance": "potassium chloride", "amount": 40, "unit": "mmol"}


def words(reviewed: Reviewed, **order: object) -> str:
    case = reviewed(ADULT, {**SALT, **order}).case
    return order_words(case.orders[0], case.now)


def test_fluid_additives_volume_rate_and_line_are_read_in_that_order(reviewed: Reviewed) -> None:
    read = words(reviewed, additives=[KCL], lumen="left hand")
    places = [
        read.index(part)
        for part in ("0.9% sodium chloride with", "potassium chloride", "1,000 mL", "125 mL/h",
                     "by left hand")
    ]  # fmt: skip
    assert places == sorted(places)


def test_a_bag_that_runs_says_when_it_ends(reviewed: Reviewed) -> None:
    assert "ends 10:20" in words(reviewed, starts_at="2031-03-04T02:20:00Z", duration_h=8)


def test_a_bag_that_has_run_dry_says_so(reviewed: Reviewed) -> None:
    assert "ended 06:00" in words(reviewed, starts_at="2031-03-03T22:00:00Z", duration_h=8)


def test_without_a_start_no_end_is_made_up(reviewed: Reviewed) -> None:
    case = reviewed(ADULT, SALT).case
    assert ends_at(case.orders[0]) is None
    assert "end" not in words(reviewed)


def test_words_that_name_no_fluid_are_quoted(reviewed: Reviewed) -> None:
    order = reviewed(ADULT, {"fluid": "moon dust"}).case.orders[0]
    assert bag_words(order) == "“moon dust”"


def test_an_order_is_read_back_without_its_line_and_with_the_hours_it_states(
    reviewed: Reviewed,
) -> None:
    timed = {"fluid": "0.9% sodium chloride", "volume_ml": 1000, "duration_h": 8, "lumen": "left"}
    order = reviewed(ADULT, timed).case.orders[0]
    assert read_back(order) == "0.9% sodium chloride, 1,000 mL, 125 mL/h, over 8 h"


@pytest.mark.parametrize(
    ("hours", "read"),
    [
        (0.25, "over 15 min"),
        (0.33, "over 20 min"),
        (1.5, "over 1 h 30 min"),
        (0.0833, "over 5 min"),
    ],
)
def test_minutes_are_read_back_to_the_minute(reviewed: Reviewed, hours: float, read: str) -> None:
    timed = {"fluid": "0.9% sodium chloride", "volume_ml": 250, "duration_h": hours}
    assert read_back(reviewed(ADULT, timed).case.orders[0]).endswith(read)
