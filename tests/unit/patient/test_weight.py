"""A weight that hardly fits the age is asked about."""

import pytest

from app.patient.weight import believable_kg, weight_doubt


@pytest.mark.parametrize(
    ("age_years", "weight_kg"),
    [
        pytest.param(60, 7, id="a slipped point in an adult"),
        pytest.param(6, 46, id="pounds for kilograms"),
        pytest.param(0.01, 3200, id="grams"),
        pytest.param(0.5, 0.7, id="a slipped point in an infant"),
        pytest.param(12, 5, id="a slipped point at twelve"),
    ],
)
def test_a_weight_that_hardly_fits_is_asked_about(age_years: float, weight_kg: float) -> None:
    assert "slipped point" in weight_doubt(age_years, weight_kg)


@pytest.mark.parametrize(
    ("age_years", "weight_kg"),
    [(60, 38), (60, 180), (6, 32), (6, 14), (0.01, 0.6), (0.5, 7), (14, 95), (1, 9.5), (16, 45)],
)
def test_thin_and_heavy_people_are_believed(age_years: float, weight_kg: float) -> None:
    assert weight_doubt(age_years, weight_kg) == ""


def test_without_an_age_or_a_weight_nothing_is_asked() -> None:
    assert weight_doubt(None, 7) == ""
    assert weight_doubt(60, None) == ""


def test_what_is_believed_grows_with_age_in_childhood() -> None:
    highs = [believable_kg(age)[1] for age in (0.01, 0.5, 2, 5, 8, 12, 40)]
    assert highs == sorted(highs)
