from datetime import UTC, datetime
from types import MappingProxyType

from app.cautions.shared.flow import (
    carrier_day_ml,
    day_ml,
    is_fast,
    is_written,
    lacks_volume,
    recorded,
    running_ml_h,
    whole_volume_ml,
)
from app.patient.case import Case
from app.patient.order import CoInfusion, Order
from app.patient.snapshot import Snapshot, Words

NOW = datetime(2031, 3, 4, 7, 0, tzinfo=UTC)


def patient(*keys: str, **said: str) -> Snapshot:
    return Snapshot(now=NOW, conditions=Words(frozenset(keys), detail=MappingProxyType(said)))


def test_conditions_are_told_in_the_order_asked_and_as_people_say_them() -> None:
    both = patient("siadh", "heart_failure")
    assert recorded(both, ("heart_failure", "dialysis", "siadh")) == ("heart failure", "SIADH")


def test_the_words_of_a_condition_can_be_asked() -> None:
    filtered = patient("dialysis", dialysis="on CVVHDF")
    assert is_written(filtered, "dialysis", "cvvh")
    assert not is_written(filtered, "dialysis", "peritoneal")
    assert not is_written(filtered, "anuria", "cvvh")


def test_a_failing_heart_in_shock_lacks_no_volume() -> None:
    assert lacks_volume(patient("shock"))
    assert not lacks_volume(patient("shock", "cardiogenic_shock"))
    assert not lacks_volume(patient("heart_failure"))


def test_a_bolus_and_resuscitation_are_fast() -> None:
    assert is_fast(Order("o", "", None, is_bolus=True))
    assert is_fast(Order("o", "", None, purpose="resuscitation"))
    assert not is_fast(Order("o", "", None, purpose="maintenance", rate_ml_h=900))


def test_the_whole_volume_is_as_written_or_rate_by_duration() -> None:
    assert whole_volume_ml(Order("o", "", None, volume_ml=500, rate_ml_h=100)) == 500
    assert whole_volume_ml(Order("o", "", None, rate_ml_h=100, duration_h=4)) == 400
    assert whole_volume_ml(Order("o", "", None, rate_ml_h=100)) is None


def test_a_day_is_counted_from_the_rate() -> None:
    assert day_ml(Order("o", "", None, rate_ml_h=50)) == 1200
    assert day_ml(Order("o", "", None)) is None


def test_rates_add_up_and_a_missing_one_adds_nothing() -> None:
    orders = (Order("a", "", None, rate_ml_h=50), Order("b", "", None))
    assert running_ml_h(Case(patient(), orders)) == 50


def test_a_carrier_counts_its_volume_once_or_its_rate_all_day() -> None:
    assert carrier_day_ml(CoInfusion("x", "drug", volume_ml=50, rate_ml_h=50)) == 50
    assert carrier_day_ml(CoInfusion("x", "drug", rate_ml_h=10)) == 240
    assert carrier_day_ml(CoInfusion("x", "drug")) is None
