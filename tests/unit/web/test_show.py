"""Numbers and times as people read them."""

from datetime import UTC, datetime, timedelta, timezone

import pytest

from app.web import show

NOW = datetime(2031, 3, 4, 7, 0, tzinfo=UTC)


@pytest.mark.parametrize(
    ("value", "places", "text"),
    [
        (5.0, 1, "5"),
        (0.5, 1, "0.5"),
        (1000, 0, "1,000"),
        (12345.678, 2, "12,345.68"),
        (-2.5, 1, "−2.5"),
        (100, 0, "100"),
        (0, 1, "0"),
        (None, 1, "not known"),
    ],
)
def test_a_number_has_no_trailing_zero_and_always_a_leading_one(
    value: float | None, places: int, text: str
) -> None:
    assert show.number(value, places) == text


def test_a_small_amount_is_never_shown_as_none_at_all() -> None:
    assert show.number(0.04, 1) == "under 0.1"
    assert str(show.aligned(0.04)) == "under 0.1"


def test_a_number_is_cut_at_its_decimal_point() -> None:
    assert show.aligned(4.25, 2) == show.Aligned("4", ".25")
    assert show.aligned(154) == show.Aligned("154", "")
    assert show.aligned(None) == show.Aligned("not known")


def test_an_amount_has_a_space_before_its_unit() -> None:
    assert show.amount(5.9, "mmol/L") == "5.9 mmol/L"
    assert show.amount(66, "umol/L") == "66 µmol/L"
    assert show.amount(7.4, "1") == "7.4"
    assert show.amount(None, "mL/h") == "not known"


def test_a_range_of_one_figure_is_that_figure() -> None:
    assert show.span(70, 70, 0) == "70"
    assert show.span(1750, 2100, 0) == "1,750 to 2,100"


def test_names_keep_the_form_the_trade_gives_them() -> None:
    assert show.name_text("calcium_ionised") == "ionised calcium"
    assert show.name_text("weight_kg") == "weight"
    assert show.capital("eGFR") == "eGFR"
    assert show.capital("pH") == "pH"
    assert show.capital("ionised calcium") == "Ionised calcium"


def test_a_time_of_today_has_no_date_and_another_days_has() -> None:
    assert show.clock(NOW - timedelta(hours=1), NOW) == "06:00"
    assert show.clock(NOW - timedelta(hours=9), NOW) == "Mon 3 Mar 22:00"
    assert show.clock(None, NOW) == "time not known"


def test_a_time_is_told_by_the_units_own_clock() -> None:
    there = NOW.astimezone(timezone(timedelta(hours=2)))
    assert show.clock(NOW, there) == "09:00"


@pytest.mark.parametrize(
    ("length", "text"),
    [
        (timedelta(minutes=40), "40 min"),
        (timedelta(hours=3, minutes=10), "3 h 10 min"),
        (timedelta(hours=3), "3 h"),
        (timedelta(days=3), "3 d"),
        (None, "not known"),
    ],
)
def test_an_age_of_a_result_reads_as_people_say_it(length: timedelta | None, text: str) -> None:
    assert show.duration(length) == text


@pytest.mark.parametrize(
    ("years", "text"),
    [
        (61.7, "61 y"),
        (1.5, "18 months"),
        (3 / 365.25, "3 d"),
        (0.5, "6 months"),
        (None, "age not known"),
    ],
)
def test_a_newborn_counts_in_days_and_an_infant_in_months(years: float | None, text: str) -> None:
    assert show.person_age(years) == text


def test_a_missing_weight_is_said_aloud() -> None:
    assert show.weight(None) == "weight not known"
    assert show.weight(3.25) == "3.25 kg"


def test_counts_agree_with_their_nouns() -> None:
    assert show.count(1, "order") == "1 order"
    assert show.count(0, "order") == "no orders"
    assert show.count(2, "child", "children") == "2 children"
    assert show.count(3480, "order") == "3,480 orders"


@pytest.mark.parametrize(
    ("value", "places", "text"),
    [(1.54, 1, "+1.5"), (-2.0, 1, "−2"), (0.04, 1, "no change"), (-0.004, 2, "no change"),
     (0.03, 2, "+0.03")],
)  # fmt: skip
def test_a_change_has_its_sign(value: float, places: int, text: str) -> None:
    assert show.signed(value, places) == text


def test_a_moment_on_paper_is_told_in_full_with_its_zone() -> None:
    assert show.clock_and_day(datetime(2031, 3, 4, 7, 5, tzinfo=UTC)) == "Tue 4 Mar 2031, 07:05 UTC"


def test_a_person_is_named_by_initials_age_and_weight() -> None:
    assert show.person("D.P.", 61, 70) == "D.P., 61 y, 70 kg"
    assert show.person("D.P.", None, None) == "D.P., age not known, weight not known"
