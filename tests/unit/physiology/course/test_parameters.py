"""The ranges of the model."""

import numpy as np
import pytest

from app.physiology.course.parameters import PARAMETERS, SPREADS, apart, drawn, responses


@pytest.mark.parametrize("name", PARAMETERS)
def test_every_parameter_has_a_range_about_its_middle_and_a_reason(name: str) -> None:
    one = PARAMETERS[name]
    assert 0 < one.low < one.mid < one.high and one.unit and one.why


@pytest.mark.parametrize("name", PARAMETERS)
def test_four_of_five_people_lie_in_the_range(name: str) -> None:
    one, people = PARAMETERS[name], drawn(4000)[name]
    middle = (one.low * one.high) ** 0.5 / one.mid
    inside = np.mean((people * middle >= one.low) & (people * middle <= one.high))
    assert people[0] == pytest.approx(one.mid) and 0.75 < inside < 0.85


def test_the_first_person_responds_as_the_model_does() -> None:
    assert (responses(50, 3)[:, 0] == 1).all() and (responses(50, 3) >= 0).all()


def test_the_middle_person_does_not_stand_apart_and_the_others_do_evenly() -> None:
    people = apart(4000, 2)
    assert (people[:, 0] == 0).all()
    assert abs(people[0].mean()) < 0.05 and 0.95 < people[0].std() < 1.05


def test_every_spread_says_where_it_is_from() -> None:
    for spread in SPREADS.values():
        assert spread.sd > 0 and spread.change > 0 and spread.why
