"""What orders bring in a day, beside an adult's need and nobody else's."""

from collections.abc import Callable

import pytest

from app.review.assess import Review
from app.web.advice.loads import LoadsView, loads_view

Reviewed = Callable[..., Review]
SALT = {"fluid": "0.9% sodium chloride", "volume_ml": 1000, "rate_ml_h": 100}


def loads(reviewed: Reviewed, **patient: object) -> LoadsView:
    review = reviewed(patient, SALT)
    return loads_view(review.orders[0].loads, review.case.patient)


def need(view: LoadsView, name: str) -> str:
    return next(row.need for row in view.rows if row.name == name)


def test_an_adults_need_is_laid_beside_the_load(reviewed: Reviewed) -> None:
    view = loads(reviewed, age_years=60, weight_kg=70)
    assert need(view, "Water") == "1,750 to 2,100"
    assert need(view, "Sodium") == "70"
    assert "70 kg" in view.note


def test_a_weak_heart_needs_less_water(reviewed: Reviewed) -> None:
    view = loads(reviewed, age_years=60, weight_kg=70, conditions=["heart failure"])
    assert need(view, "Water") == "1,400 to 1,750"


@pytest.mark.parametrize(
    ("patient", "says"),
    [
        ({"age_years": 60}, "no weight"),
        ({"age_years": 4, "weight_kg": 16}, "for adults"),
        ({"weight_kg": 70}, "neither age nor setting"),
    ],
)
def test_where_no_need_can_be_told_it_says_why(
    reviewed: Reviewed, patient: dict[str, float], says: str
) -> None:
    view = loads(reviewed, **patient)
    assert {row.need for row in view.rows} == {""}
    assert says in view.note


def test_a_load_by_weight_without_a_weight_is_a_dash(reviewed: Reviewed) -> None:
    assert {str(row.by_weight) for row in loads(reviewed, age_years=60).rows} == {"–"}


def test_potassium_each_hour_is_told_by_itself(reviewed: Reviewed) -> None:
    assert loads(reviewed, age_years=60, weight_kg=70).potassium_each_hour == "0 mmol/h"
