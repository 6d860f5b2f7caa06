"""Rate, volume and duration from figures and from words."""

import pytest

from app.intake.orders.flow import complete
from app.intake.rates import cut_rate_words, flow_of_words

WEIGHT_KG = 70.0


@pytest.mark.parametrize(
    ("written", "rate", "volume", "duration"),
    [
        ("125 ml/hr", 125, None, None), ("125mL/h", 125, None, None),
        ("80 ml per hour", 80, None, None), ("80 mls/hour", 80, None, None),
        ("5 mL/min", 300, None, None), ("3 L/24 h", 125, None, None), ("3 L/day", 125, None, None),
        ("2 mL/kg/h", 140, None, None), ("100 mL/kg/day", 291.67, None, None),
        ("over 8 h", None, None, 8), ("8 hourly", None, None, 8), ("8-hourly", None, None, 8),
        ("q8h", None, None, 8), ("every 6 hours", None, None, 6),
        ("1 L over 30 min", 2000, 1000, 0.5), ("500 mL over half an hour", 1000, 500, 0.5),
        ("bolus 500 mL over 15 min", 2000, 500, 0.25), ("2L over 24 hours", 83.33, 2000, 24),
        ("half a litre over 1 h", 500, 500, 1), ("10 mL/kg over 10 min", 4200, 700, 1 / 6),
        ("100 mL/h for 10 h", 100, 1000, 10), ("1 L q8h x3 bags", 125, 3000, 24),
        ("20 gtt/min (20 gtt/mL)", 60, None, None), ("1L 8/24", 125, 1000, 8),
        ("250 ml stat", None, 250, None), ("50 mL IV push", None, 50, None),
    ],
)  # fmt: skip
def test_words_give_rate_volume_and_duration(
    written: str, rate: float | None, volume: float | None, duration: float | None
) -> None:
    flow = complete(flow_of_words(written, WEIGHT_KG))
    assert flow.asks == ()
    expected = [None if f is None else pytest.approx(f, abs=0.01) for f in (rate, volume, duration)]
    assert [flow.rate_ml_h, flow.volume_ml, flow.duration_h] == expected


@pytest.mark.parametrize(
    "written",
    ["75-125 mL/h", "75 to 125 mL/h", "20 gtt/min", "KVO", "keep vein open", "over 4-6 h",
     "50 mL/h for 2 h then 100 mL/h", "titrate to urine output", "over 0 h", "40000 mL/h"],
)  # fmt: skip
def test_a_range_or_a_doubt_is_asked_about_and_not_used(written: str) -> None:
    flow = flow_of_words(written, WEIGHT_KG)
    assert flow.asks and flow.rate_ml_h is None


def test_a_rate_by_weight_needs_the_weight() -> None:
    flow = flow_of_words("2 mL/kg/h", None)
    assert flow.rate_ml_h is None and "weight" in flow.asks[0]


@pytest.mark.parametrize(
    ("written", "is_bolus"),
    [("stat", True), ("500 mL bolus", True), ("fluid challenge", True), ("125 mL/h", False)],
)
def test_a_bolus_is_heard(written: str, is_bolus: bool) -> None:
    assert flow_of_words(written, None).is_bolus is is_bolus


@pytest.mark.parametrize(
    ("written", "ends"),
    [("over 8 h", True), ("8-hourly", False), ("125 mL/h", False), ("1 L q8h x3 bags", True),
     ("500 mL bolus", True)],
)  # fmt: skip
def test_words_say_whether_the_order_ends(written: str, ends: bool) -> None:
    assert flow_of_words(written, None).stated_duration is ends


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("0.9% sodium chloride at 125 mL/h", "0.9% sodium chloride"), ("D5W @ 75 ml/hr", "d5w"),
        ("Hartmann's 1 L over 8 h", "hartmanns 1 l"), ("NS 20 ml/kg bolus", "ns"),
        ("0.9% sodium chloride with KCl 40 mmol/L", "0.9% sodium chloride with KCl 40 mmol/L"),
    ],
)  # fmt: skip
def test_the_rate_is_cut_off_the_name(written: str, name: str) -> None:
    assert cut_rate_words(written)[0] == name
