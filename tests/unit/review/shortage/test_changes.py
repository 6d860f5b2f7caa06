"""Two reviews of one patient held against each other."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from app.cautions.assess import Found
from app.cautions.registry import ALL_RULES
from app.cautions.rule import Finding, Level, NotAssessed
from app.review.assess import Review
from app.review.shortage.changes import changes
from tests.unit.review.shortage.conftest import order

Reviewed = Callable[..., Review]


@pytest.fixture
def quiet(reviewed: Reviewed) -> Review:
    """A review with nothing found."""
    made = reviewed(order(purpose="maintenance"))
    orders = tuple(replace(one, found=(), not_assessed=()) for one in made.orders)
    return replace(made, orders=orders, patient_found=(), patient_not_assessed=())


def with_found(review: Review, *found: tuple[int, Level]) -> Review:
    made = tuple(
        Found(ALL_RULES[n], Finding(level, f"rule {n}", "why", order_ids=("o1",)), {})
        for n, level in found
    )
    return replace(review, patient_found=made)


def test_two_equal_reviews_differ_in_nothing(quiet: Review) -> None:
    same = with_found(quiet, (0, "critical"), (1, "info"))
    made = changes(same, same)
    assert (made.new, made.gone, made.milder) == ((), (), ())
    assert not made.brings_critical


def test_what_was_not_there_is_new_and_what_is_no_longer_is_gone(quiet: Review) -> None:
    made = changes(with_found(quiet, (0, "warning")), with_found(quiet, (1, "critical")))
    assert [(one.found.rule.id, one.level, one.was) for one in made.new] == [
        (ALL_RULES[1].id, "critical", "")
    ]
    assert [one.found.rule.id for one in made.gone] == [ALL_RULES[0].id]
    assert made.brings_critical


def test_what_gets_louder_is_new_and_tells_how_it_was(quiet: Review) -> None:
    made = changes(with_found(quiet, (0, "info")), with_found(quiet, (0, "critical")))
    assert [(one.level, one.was) for one in made.new] == [("critical", "info")]
    assert made.brings_critical
    assert made.gone == ()


def test_what_gets_quieter_is_neither_new_nor_gone(quiet: Review) -> None:
    made = changes(with_found(quiet, (0, "critical")), with_found(quiet, (0, "warning")))
    assert made.new == made.gone == ()
    assert [(one.level, one.was) for one in made.milder] == [("warning", "critical")]
    assert not made.brings_critical


def test_the_worst_is_told_first(quiet: Review) -> None:
    made = changes(quiet, with_found(quiet, (0, "info"), (1, "critical"), (2, "warning")))
    assert [one.level for one in made.new] == ["critical", "warning", "info"]


def test_the_same_rule_about_another_order_is_another_finding(quiet: Review) -> None:
    before = with_found(quiet, (0, "warning"))
    found = before.patient_found[0]
    other = replace(found, finding=replace(found.finding, order_ids=("o2",)))
    made = changes(before, replace(before, patient_found=(other,)))
    assert (len(made.new), len(made.gone)) == (1, 1)


def test_what_cannot_be_assessed_is_told_with_what_it_needs(quiet: Review) -> None:
    lacks = (
        NotAssessed("a", ("weight_kg",), "missing", "", "o1"),
        NotAssessed("b", ("potassium", "weight_kg"), "stale", "", None),
    )
    made = changes(quiet, replace(quiet, patient_not_assessed=lacks))
    assert made.not_assessed == lacks
    assert made.needs == ("weight_kg", "potassium")
