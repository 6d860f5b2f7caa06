"""How often a drug is given and how much, as people write it."""

import pytest

from app.intake.orders.schedule import cut_times, read_schedule


@pytest.mark.parametrize(
    ("written", "doses"),
    [
        ("meropenem 1 g q8h", 3), ("meropenem 1 g q 8 h", 3), ("1 g every 6 hours", 4),
        ("1 g 8-hourly", 3), ("1 g 12 hourly", 2), ("1 g 6/24", 4), ("1 g q24h", 1),
        ("1 g tds", 3), ("1 g TID", 3), ("1 g t.d.s.", 3), ("1 g bd", 2), ("1 g b.i.d.", 2),
        ("1 g qds", 4), ("1 g od", 1), ("1 g daily", 1), ("2 g nocte", 1),
        ("1 g twice daily", 2), ("1 g three times a day", 3), ("1 g 4 times per day", 4),
        ("1 g 3x/day", 3), ("1 g once a day", 1), ("1 g stat", 1), ("one-off dose of 1 g", 1),
        ("100 mg/kg/day in 4 doses", 4), ("10 g/day", 1), ("1 g every 48 h", 0.5),
    ],
)  # fmt: skip
def test_the_times_of_a_day_are_read(written: str, doses: float) -> None:
    assert read_schedule(written).doses_per_day == doses


@pytest.mark.parametrize(
    "written", ["meropenem 1 g", "1 g over 3 h", "over 24 hours", "bedside", "0.9% at 10 mL/h", ""]
)
def test_times_that_are_not_written_stay_unknown(written: str) -> None:
    assert read_schedule(written).doses_per_day is None


@pytest.mark.parametrize(
    ("written", "grams"),
    [
        ("4.5 g q8h", 4.5), ("500 mg bd", 0.5), ("1,000 mg", 1), ("4 g/0.5 g every 6 h", 4.5),
        ("2 x 500 mg", 1), ("1 g in 100 mL", 1), ("12 g/day in 4 doses", 3),
        ("200 mg per 24 h", 0.2), ("100 microgram", 1e-4),
    ],
)  # fmt: skip
def test_the_dose_is_read(written: str, grams: float) -> None:
    assert read_schedule(written).dose_g == pytest.approx(grams)


@pytest.mark.parametrize("written", ["3 mg/h", "0.1 mg/kg/min", "5 g/L", "20,000 units", "10 mL"])
def test_a_rate_or_a_strength_is_no_dose(written: str) -> None:
    assert read_schedule(written).dose_g is None


def test_a_dose_for_each_kilogram_is_told_apart() -> None:
    read = read_schedule("ceftriaxone 50 mg/kg daily")
    assert read.per_kg and read.dose_g == pytest.approx(0.05)


@pytest.mark.parametrize(
    ("written", "runs"),
    [
        ("insulin 3 units/h", True), ("norepinephrine 0.1 microg/kg/min", True),
        ("flucloxacillin 12 g/day continuous", True), ("meropenem 1 g tds", False),
        ("100 mL/h", False),
    ],
)  # fmt: skip
def test_what_runs_all_day_is_told_apart(written: str, runs: bool) -> None:
    assert read_schedule(written).is_continuous is runs


def test_words_for_times_are_no_length_of_an_infusion() -> None:
    assert cut_times("1 g in 100 mL over 30 min q8h") == "1 g in 100 ml over 30 min"
    assert cut_times("250 mL 5% glucose 12 hourly") == "250 ml 5% glucose"
