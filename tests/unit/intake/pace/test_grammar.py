"""The grammar of rates: one example for each way of writing."""

import pytest

from app.intake.pace.heard import Body
from app.intake.pace.hearing import hear
from app.intake.pace.spelling import plain

ADULT = Body(70.0, 175.0)


@pytest.mark.parametrize(
    ("written", "rates"),
    [
        ("75 an hour", [75]), ("125/hr", [125]), ("mL/hr: 125", [125]), ("ml 100 per hr", [100]),
        ("42ml hr", [42]), ("100 ml hourly", [100]), ("100 hourly", [100]), ("0.5 L/h", [500]),
        ("2000 ml daily", [83.3]), ("1.5 L/24h", [62.5]), ("3L/d", [125]), ("1000/day", [41.7]),
        ("2 ml/min", [120]), ("2 mL/kg/h", [140]),
        ("2 mL/h/kg", [140]), ("mL/kg/h: 2", [140]), ("100 ml/jr", [100]),
        ("1ml per kg per hour", [70]),
        ("30 mL/kg/24h", [87.5]), ("100 mL/m2/h", [184.5]), ("60 microdrops/min", [60]),
        ("20 drops/min (20 drops/mL)", [60]), ("200-250 ml/hr", [250]),
    ],
)  # fmt: skip
def test_rates_are_heard(written: str, rates: list[float]) -> None:
    heard = hear(plain(written), ADULT)
    assert heard.rates == [pytest.approx(rate, rel=0.01) for rate in rates] and not heard.asks


@pytest.mark.parametrize(
    ("written", "volumes", "durations"),
    [
        ("1 L over 8 h", [1000], [8]), ("over 1hr 30", [], [1.5]), ("over 2h30min", [], [2.5]),
        ("over an hour", [], [1]), ("over 15/60", [], [0.25]), ("500 ml x 4h", [500], [4]),
        ("1L 8h", [1000], [8]), ("20 mL/kg", [1400], []), ("250 over 15 min", [250], [0.25]),
        ("over 4-6 hours", [], [4]), ("20/kg over 20", [1400], [1 / 3]),
        ("for 2/7", [], [48]), ("2 g in 100 mL over 20 min", [100],
        [1 / 3]), ("250 x 2", [250], []), ("3 x 250 mL", [250], []),
    ],
)  # fmt: skip
def test_volumes_and_lengths_are_heard(
    written: str, volumes: list[float], durations: list[float]
) -> None:
    heard = hear(plain(written), ADULT)
    assert heard.volumes == volumes and heard.durations == [pytest.approx(d) for d in durations]


@pytest.mark.parametrize(
    ("written", "interval"),
    [("8-hourly bags", 8), ("q8h", 8), ("Q4", 4), ("8/24", 8), ("1000/8h", 8), ("tds", 8),
     ("3 bags per day", 8), ("1 bag/8 h", 8), ("8 hours/bag", 8),
     ("3 times a day", 8), ("8h bag", 8)],
)  # fmt: skip
def test_one_bag_after_another_is_heard(written: str, interval: float) -> None:
    assert hear(plain(written), ADULT).intervals == [interval]


@pytest.mark.parametrize(
    "written",
    ["50/125 mL/h", "50 ml/hr or 100 ml/hr", "12.5 or 125 ml/hr", "over 8 or 12 h", "100-1000 mL/h",
     "20/kg/", "50/min", "125 ml/", "100/day?"],
)  # fmt: skip
def test_what_can_be_read_in_two_ways_is_asked_about(written: str) -> None:
    assert hear(plain(written), ADULT).asks


@pytest.mark.parametrize("written", ["30 gtt/min", "2 mL/kg/h", "20 mL/kg", "3 L/m2/day"])
def test_what_lacks_weight_height_or_giving_set_is_wanted(written: str) -> None:
    heard = hear(plain(written), Body())
    assert heard.wants and not heard.rates and not heard.volumes


def test_a_dose_by_the_hour_is_kept_and_one_by_the_day_is_none() -> None:
    assert hear("10 mmol/h", ADULT).dose_rates == [(10, "mmol")]
    assert hear("0.1 units/kg/h", ADULT).dose_rates == [(pytest.approx(7), "units")]
    assert hear("3 mmol/kg/day", ADULT).dose_rates == []
    assert hear("3 mmol/kg/h", Body()).dose_rates == []


def test_over_a_bare_number_keeps_the_number_and_the_volume_before_it() -> None:
    heard = hear("500 over 4", ADULT)
    assert heard.bare_over == 4 and heard.volumes == [500]
    assert hear("40 in 500", ADULT).bare_over is None
