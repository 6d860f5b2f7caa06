"""A plan laid out from places and starts."""

import pytest

from app.lines.laid import joined, laid_out, taken
from app.lines.model import Run
from tests.unit.lines.build import P1, P2, cost, dose, problem, running, runs


def test_pauses_that_touch_or_overlap_are_one_and_minutes_count_once() -> None:
    asked = problem(
        (P1,), running("lr", pauses=True), dose("a", 60), dose("b", 60), dose("c", 30),
        apart="lr a, lr b, lr c",
    )  # fmt: skip
    plan = laid_out(asked, dict.fromkeys(("lr", "a", "b", "c"), "p1"), {"a": 60, "b": 90, "c": 150})
    assert runs(plan, "lr") == [(0, 60), (180, 720)]
    assert cost(plan) == (0, 1, 120)


def test_only_what_is_on_its_lumen_stops_a_fluid() -> None:
    asked = problem((P1, P2), running("lr", pauses=True), dose("a", 60), apart="lr a")
    plan = laid_out(asked, {"lr": "p1", "a": "p2"}, {"a": 60})
    assert cost(plan) == (0, 0, 0)


def test_a_lumen_that_is_not_given_is_a_new_cannula() -> None:
    asked = problem((P1,), running("lr"), running("x"), running("y"))
    plan = laid_out(asked, {"lr": "p1", "x": "new1", "y": "new1"}, {})
    assert cost(plan) == (1, 0, 0)


@pytest.mark.parametrize(
    ("start", "expected"),
    [(0, Run(0, 40)), (5, Run(0, 45)), (60, Run(50, 100)), (690, Run(680, 720))],
)
def test_flushes_are_cut_where_the_plan_begins_and_ends(start: int, expected: Run) -> None:
    assert taken(problem((P1,), flush_min=10), dose("a", 30), start) == expected


def test_a_fluid_stopped_from_the_first_minute_to_the_last_has_no_run() -> None:
    asked = problem((P1,), running("lr", pauses=True), dose("a", 720), apart="lr a")
    plan = laid_out(asked, {"lr": "p1", "a": "p1"}, {"a": 0})
    assert runs(plan, "lr") == []
    assert cost(plan) == (0, 1, 720)


def test_a_fluid_stopped_at_both_ends_runs_in_between() -> None:
    asked = problem(
        (P1,), running("lr", pauses=True), dose("a", 60), dose("b", 60), apart="lr a, lr b"
    )
    plan = laid_out(asked, dict.fromkeys(("lr", "a", "b"), "p1"), {"a": 0, "b": 660})
    assert runs(plan, "lr") == [(60, 660)]


def test_runs_are_joined_in_order_of_time() -> None:
    found = joined([Run(50, 60), Run(0, 10), Run(10, 20), Run(15, 18), Run(30, 40)])
    assert found == (Run(0, 20), Run(30, 40), Run(50, 60))
