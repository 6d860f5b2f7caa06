"""Which vein, how long, and what counts as a rescue."""

from datetime import UTC, datetime

import pytest

from app.cautions.shared.veins import (
    by_small_vein,
    hours_to_run,
    is_rescue,
    is_short,
    site_of,
    vein_text,
)
from app.patient.access import Lumen
from app.patient.case import Case, Situation
from app.patient.known import NotKnown
from app.patient.observation import Observation
from app.patient.order import Order
from app.patient.snapshot import Snapshot, Words

NOW = datetime(2031, 3, 4, 7, tzinfo=UTC)
HAND = Lumen("p1", "peripheral")
NECK = Lumen("c1", "central")


def patient(*access: Lumen, **fields: object) -> Snapshot:
    return Snapshot(NOW, access=access, **fields)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("lumen", "access", "site"),
    [
        ("p1", (HAND, NECK), "peripheral"),
        ("c1", (HAND, NECK), "central"),
        (None, (HAND,), "peripheral"),
        (None, (HAND, NECK), None),
        (None, (), None),
        ("left hand cannula", (), "peripheral"),
        ("PICC", (), "central"),
        ("x9", (HAND,), None),
    ],
)
def test_the_vein_is_told_by_the_lumen_its_name_or_all_access_alike(
    lumen: str | None, access: tuple[Lumen, ...], site: str | None
) -> None:
    assert site_of(patient(*access), lumen) == site


def test_a_vein_that_is_not_told_is_asked_for() -> None:
    with pytest.raises(NotKnown) as lack:
        by_small_vein(patient(HAND, NECK), None)
    assert lack.value.need == "lumen"


def test_a_vein_is_named_by_its_lumen() -> None:
    assert vein_text(patient(HAND), "p1") == "a peripheral vein (p1)"


def order(**fields: object) -> Order:
    return Order("o1", "50% dextrose", None, **fields)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("one", "hours"),
    [
        (order(duration_h=4.0), 4.0),
        (order(volume_ml=500.0, rate_ml_h=50.0), 10.0),
        (order(is_bolus=True), 0.0),
        (order(rate_ml_h=50.0), None),
    ],
)
def test_how_long_an_order_runs(one: Order, hours: float | None) -> None:
    assert hours_to_run(one) == hours


def test_a_small_dose_within_the_hour_is_short_and_a_bag_over_hours_is_not() -> None:
    assert is_short(order(volume_ml=50.0, duration_h=0.1), 100)
    assert not is_short(order(volume_ml=250.0, duration_h=8.0), 500)
    assert not is_short(order(volume_ml=600.0, duration_h=0.5), 500)


def test_a_low_glucose_makes_a_short_dose_a_rescue_and_a_normal_one_does_not() -> None:
    dose = order(volume_ml=50.0, duration_h=0.1)
    for glucose, rescue in ((2.1, True), (6.0, False)):
        result = Observation("glucose", glucose, "mmol/L", NOW)
        case = Case(patient(HAND, results={"glucose": (result,)}), (dose,))
        assert is_rescue(Situation(case, dose)) is rescue


def test_an_emergency_recorded_makes_no_rescue_of_a_bag_over_hours() -> None:
    bag = order(volume_ml=500.0, duration_h=10.0)
    case = Case(patient(HAND, conditions=Words(frozenset({"seizure"}))), (bag,))
    assert not is_rescue(Situation(case, bag))
