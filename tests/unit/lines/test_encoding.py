"""What the solver is told of places and times, seen by what it then allows."""

import pytest

from app.lines.model import Lumen, Problem
from app.lines.solve import Carrying, solve
from tests.unit.lines.build import C1, P1, P2, cost, dose, problem, running, runs, where


def carried(asked: Problem) -> bool:
    """Whether the lumens given carry everything."""
    everything = frozenset(asked.by_id())
    return Carrying(asked).with_all(everything, everything) is not None


def test_doses_in_turn_fill_a_lumen_to_the_minute() -> None:
    doses = [dose(name, 240) for name in "abc"]
    assert carried(problem((P1,), *doses, apart="a b, a c, b c"))
    assert not carried(problem((P1,), *doses, apart="a b, a c, b c", flush_min=1))


def test_a_flush_lies_between_two_doses_and_not_before_the_first() -> None:
    doses = [dose("a", 350), dose("b", 350)]
    asked = problem((P1,), *doses, apart="a b", flush_min=20)
    assert carried(asked)
    assert runs(solve(asked).plan, "b") == [(370, 720)]
    assert not carried(problem((P1,), *doses, apart="a b", flush_min=25))


def test_doses_that_may_meet_run_at_one_time() -> None:
    assert carried(problem((P1,), dose("a", 720), dose("b", 720)))


@pytest.mark.parametrize(("order", "fits"), [("a b", True), ("b a", False)])
def test_windows_decide_which_of_two_comes_first(order: str, fits: bool) -> None:
    first, second = order.split()
    early, late = dose(first, 60, 0, 60), dose(second, 60, 60, 120)
    assert carried(problem((P1,), early, late, dose("c", 600, 120), apart="a b, a c, b c"))
    tight = problem((P1,), dose("a", 60, 0, 70), dose("b", 60, 55, 130), apart="a b")
    assert carried(tight)
    assert (runs(solve(tight).plan, first)[0][0] == 0) is fits


def test_a_dose_without_any_start_has_no_place_anywhere() -> None:
    asked = problem((P1, P2), dose("a", 30, 6, 35), running("b"))
    found = solve(asked)
    assert found.plan is None
    assert Carrying(asked).with_all(frozenset(), frozenset("ab")) == {"b"}


def test_what_is_left_out_asks_for_no_place_and_holds_nobody_to_its_own() -> None:
    # The carrier needs central and there is none; the dose alone could run.
    asked = problem(
        (P1,), running("carrier", needs_central=True), dose("cef", 30, beside="carrier")
    )
    assert Carrying(asked).with_all(frozenset({"cef"}), frozenset({"cef"})) == {"cef"}
    assert Carrying(asked).with_all(frozenset(asked.by_id()), frozenset(asked.by_id())) is None


def test_what_clashes_with_its_own_carrier_has_no_plan() -> None:
    asked = problem(
        (P1, C1), running("carrier", pauses=True), dose("cef", 30, beside="carrier"),
        apart="carrier cef",
    )  # fmt: skip
    assert solve(asked).plan is None


def test_a_paused_fluid_stays_connected() -> None:
    asked = problem(
        (P1,), running("lr", pauses=True), dose("a", 60), dose("b", 60), apart="lr a, lr b",
        most_at_once=2,
    )  # fmt: skip
    plan = solve(asked).plan
    assert cost(plan) == (0, 1, 120)
    (a,), (b,) = runs(plan, "a"), runs(plan, "b")
    assert a[1] <= b[0] or b[1] <= a[0]


def test_lumens_of_one_site_and_role_are_taken_in_order_and_others_as_needed() -> None:
    kept = Lumen("n1", "central", "nutrition")
    asked = problem(
        (C1, kept, P1, P2), running("a"), running("b"), running("c"),
        running("n", role="nutrition"),
        apart="a b, a c, b c, n a, n b, n c",
    )  # fmt: skip
    assert where(solve(asked).plan) == {"a": "c1", "b": "p1", "c": "p2", "n": "n1"}


def test_a_lumen_that_something_runs_on_is_not_exchanged_for_another() -> None:
    asked = problem((P1, P2), running("a"), running("b", stays_on="p1"), apart="a b")
    assert where(solve(asked).plan) == {"a": "p2", "b": "p1"}


def test_fewer_lumens_for_one_order_come_after_fewer_moves() -> None:
    asked = problem(
        (P1, P2), dose("first", 30, 0, 60, order_id="o", stays_on="p1"),
        dose("second", 30, 360, 420, order_id="o", stays_on="p2"),
    )  # fmt: skip
    assert where(solve(asked).plan) == {"first": "p1", "second": "p2"}
