"""Pauses as the solver counts them: each once, with every minute once, and none invented."""

import pytest

from app.lines.solve import solve
from tests.unit.lines.build import P1, cost, dose, problem, running, runs


@pytest.mark.parametrize(
    ("second", "expected"),
    [(60, (0, 1, 120)), (30, (0, 1, 90)), (0, (0, 1, 60)), (65, (0, 2, 120)), (300, (0, 2, 120))],
)
def test_pauses_that_touch_or_overlap_count_once(
    second: int, expected: tuple[int, int, int]
) -> None:
    asked = problem(
        (P1,), running("lr", pauses=True), dose("a", 60, 0, 60),
        dose("b", 60, second, second + 60), apart="lr a, lr b",
    )  # fmt: skip
    assert cost(solve(asked).plan) == expected


@pytest.mark.parametrize(
    ("gap", "expected"), [(20, (0, 1, 150)), (25, (0, 2, 150)), (15, (0, 1, 145))]
)
def test_flushes_belong_to_the_pause(gap: int, expected: tuple[int, int, int]) -> None:
    # a from 100 to 150, b gap min later for 60: pauses 90 to 160 and 140 + gap to 220 + gap.
    b = 150 + gap
    asked = problem(
        (P1,), running("lr", pauses=True), dose("a", 50, 100, 150), dose("b", 60, b, b + 60),
        apart="lr a, lr b", flush_min=10,
    )  # fmt: skip
    assert cost(solve(asked).plan) == expected


def test_flushes_beyond_either_end_of_the_plan_are_not_counted() -> None:
    asked = problem(
        (P1,), running("lr", pauses=True), dose("a", 60, 0, 60), dose("b", 60, 660, 720),
        apart="lr a, lr b", flush_min=10,
    )  # fmt: skip
    plan = solve(asked).plan
    assert cost(plan) == (0, 2, 140)
    assert runs(plan, "lr") == [(70, 650)]


def test_a_dose_inside_another_is_covered_by_it_even_when_a_third_reaches_further() -> None:
    asked = problem(
        (P1,), running("lr", pauses=True), dose("long", 100, 0, 100), dose("inside", 10, 20, 30),
        dose("tail", 50, 80, 130), apart="lr long, lr inside, lr tail",
    )  # fmt: skip
    assert cost(solve(asked).plan) == (0, 1, 130)


def test_a_gap_is_never_filled_to_save_an_interruption() -> None:
    asked = problem(
        (P1,), running("lr", pauses=True), dose("a", 30, 0, 30), dose("b", 30, 35, 65),
        apart="lr a, lr b",
    )  # fmt: skip
    plan = solve(asked).plan
    assert cost(plan) == (0, 2, 60)
    assert runs(plan, "lr") == [(30, 35), (65, 720)]


def test_the_most_a_fluid_may_pause_is_of_the_union_not_of_the_sum() -> None:
    asked = problem(
        (P1,), running("lr", pauses=60), dose("a", 60), dose("b", 45), apart="lr a, lr b"
    )
    found = solve(asked)
    assert found.feasible
    assert cost(found.plan) == (0, 1, 60)


def test_starts_of_one_minute_are_one_pause_whichever_is_named_first() -> None:
    doses = (dose("a", 30, 60, 90), dose("b", 30, 60, 90))
    for order in (doses, doses[::-1]):
        asked = problem((P1,), running("lr", pauses=True), *order, apart="lr a, lr b")
        assert cost(solve(asked).plan) == (0, 1, 30)


def test_a_fluid_that_may_pause_and_meets_nothing_does_not() -> None:
    assert cost(solve(problem((P1,), running("lr", pauses=True), dose("a", 60))).plan) == (0, 0, 0)
