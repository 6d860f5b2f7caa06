"""What rules ask for and lack, insulin that is not counted, and what must be told first."""

from dataclasses import replace
from types import MappingProxyType

import pytest

from app.chemistry.composition import Composition
from app.physiology.course.loads import Load
from app.review.knowledge import Knowledge
from app.review.running.loads import Running
from app.web.comparison.cautions import FluidCautions
from app.web.prediction.asked import Asked
from app.web.prediction.person import Person
from app.web.prediction.start.asking import asking_of, for_a_day, is_textbook, lacks_of

NOTHING = Running()
LACKS = (FluidCautions("a fluid", (), "", frozenset({"potassium"})),)
ILL = Person(weight_kg=70, results={"sodium": 118.0})


def test_of_somebody_out_of_a_textbook_nothing_is_asked() -> None:
    nobody = Person(weight_kg=70, age_years=40)
    assert is_textbook(nobody)
    assert not is_textbook(ILL)
    assert not is_textbook(Person(conditions=frozenset({"shock"})))
    assert asking_of(Asked(), nobody, LACKS, NOTHING).results == frozenset()
    assert asking_of(Asked(), ILL, LACKS, NOTHING).results == {"potassium"}


def test_insulin_is_left_out_only_where_none_of_it_is_counted() -> None:
    typed = Asked(typed=MappingProxyType({"insulin_runs": "1"}))
    assert asking_of(typed, ILL, (), NOTHING).insulin
    counted = Running((Load(Composition(), 0.0, 0.0, 60.0, insulin_units=6.0),))
    assert not asking_of(typed, ILL, (), counted).insulin
    assert not asking_of(replace(typed, values={"insulin": 6.0}), ILL, (), NOTHING).insulin
    assert not asking_of(Asked(), ILL, (), NOTHING).insulin


@pytest.mark.parametrize(
    ("weight_kg", "age_years", "field"),
    [(None, 3.0, "Weight"), (3.0, None, "Age"), (34.9, None, "Age")],
)
def test_a_child_is_asked_for_what_is_needed(
    weight_kg: float | None, age_years: float | None, field: str
) -> None:
    (fault,) = lacks_of(Person(weight_kg=weight_kg, age_years=age_years))
    assert (fault.field, fault.value) == (field, "")


@pytest.mark.parametrize(("weight_kg", "age_years"), [(None, None), (35.0, None), (3.0, 0.1)])
def test_who_may_be_an_adult_or_is_told_whole_is_not(
    weight_kg: float | None, age_years: float | None
) -> None:
    assert list(lacks_of(Person(weight_kg=weight_kg, age_years=age_years))) == []


def test_a_day_is_looked_ahead_where_sodium_has_limits_of_a_day(knowledge: Knowledge) -> None:
    limits = knowledge.ruleset.limits
    short = Asked(horizon_h=4)
    assert for_a_day(short, ILL, limits).horizon_h == 24
    assert for_a_day(short, ILL, limits).typed["horizon"] == "24"
    usual = Person(weight_kg=70, results={"sodium": 140.0})
    assert for_a_day(short, usual, limits) is short
