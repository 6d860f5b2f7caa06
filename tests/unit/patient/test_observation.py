from datetime import UTC, datetime, timedelta

from app.patient.observation import FRESH_FOR, Observation

NOW = datetime(2031, 3, 4, 7, 0, tzinfo=UTC)


def taken(hours: float, name: str = "potassium") -> Observation:
    return Observation(name, 4.2, "mmol/L", NOW - timedelta(hours=hours))


def test_a_result_knows_its_age() -> None:
    assert taken(3).age(NOW) == timedelta(hours=3)


def test_a_result_without_a_time_has_no_age_and_is_not_called_stale() -> None:
    untimed = Observation("potassium", 4.2, "mmol/L", None)
    assert untimed.age(NOW) is None
    assert not untimed.is_stale(NOW)


def test_electrolytes_go_stale_after_a_day_and_gases_after_twelve_hours() -> None:
    assert not taken(24).is_stale(NOW)
    assert taken(24.1).is_stale(NOW)
    assert not taken(12, "ph").is_stale(NOW)
    assert taken(12.1, "ph").is_stale(NOW)


def test_every_named_limit_is_a_real_span() -> None:
    assert all(span > timedelta(0) for span in FRESH_FOR.values())
