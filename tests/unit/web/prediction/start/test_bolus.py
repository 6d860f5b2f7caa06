"""What is given fast and in volume is a bolus, and somebody looks again soon."""

import pytest

from app.web.prediction.person import Person
from app.web.prediction.start.bolus import bolus_ml, look_again

ADULT = Person(weight_kg=70, age_years=50)


@pytest.mark.parametrize(
    ("volume_ml", "minutes", "found"),
    [(500, 15, 500), (280, 60, 280), (279, 15, 0), (500, 61, 0), (1000, 240, 0)],
)
def test_a_bolus_is_fast_and_large_enough(volume_ml: float, minutes: float, found: float) -> None:
    assert bolus_ml(volume_ml, minutes, ADULT.subject()) == found


def test_in_sepsis_less_stays_than_is_shown() -> None:
    septic = Person(weight_kg=70, conditions=frozenset({"sepsis"}))
    assert "less stays in plasma" in look_again(septic.subject(), septic)
    assert "less stays" not in look_again(ADULT.subject(), ADULT)
    assert "15 to 30 min" in look_again(ADULT.subject(), ADULT)
