import pytest

from app.patient.known import NotKnown, known


def test_a_value_that_is_there_passes_through_even_when_it_is_zero() -> None:
    assert known(0.0, "urine_ml_h") == 0.0


def test_a_missing_value_names_what_is_needed() -> None:
    with pytest.raises(NotKnown) as lack:
        known(None, "weight_kg")
    assert (lack.value.need, lack.value.why) == ("weight_kg", "missing")
