"""The solver's answers: best, the same every time, and honest where it ran out of time."""

import subprocess
import sys
from itertools import product
from random import Random

import pytest

from app.lines.check import faults
from app.lines.laid import laid_out
from app.lines.meeting import may_have, starts
from app.lines.model import Plan, Problem, new_lumens
from app.lines.solve import Carrying, NotProven, solve
from tests.property.line_problems import random_problem
from tests.unit.lines.build import C1, P1, P2, cost, dose, problem, running, runs, where

WAYS_AT_MOST = 20_000


def crowded(seed: int, count: int = 24) -> Problem:
    """More doses than are soon proven: windows are wide, most clash, one fluid stops for all."""
    r = Random(seed)
    names = [f"d{at}" for at in range(count)]
    doses = [dose(name, r.choice([20, 30, 45]), r.randrange(0, 200), r.randrange(500, 720))
             for name in names]  # fmt: skip
    pairs = [f"{a} {b}" for a in names for b in names if a < b and r.random() < 0.5]
    stops = [f"lr {name}" for name in names] + [f"x {name}" for name in names[::2]]
    fluids = (running("lr", pauses=True), running("x", pauses=True))
    return problem((P1, P2), *fluids, *doses, apart=", ".join([*pairs, *stops, "lr x"]))


def test_past_the_limit_the_best_found_is_told_and_that_it_is_not_proven() -> None:
    asked = crowded(1)
    short = solve(asked, limit=0.02)
    assert not short.proven_optimal
    assert short.plan is None or not faults(asked, short.plan)


def test_a_little_more_time_gives_a_plan_though_none_is_proven_best() -> None:
    asked = crowded(1)
    found = solve(asked)
    assert found.plan is not None
    assert not faults(asked, found.plan)


@pytest.mark.parametrize("limit", [0.02, 0.2])
def test_even_past_the_limit_the_same_problem_has_the_same_answer(limit: float) -> None:
    assert solve(crowded(2), limit=limit) == solve(crowded(2), limit=limit)


def test_no_time_at_all_is_not_mistaken_for_no_plan() -> None:
    found = solve(crowded(3), limit=0.0)
    assert found.plan is not None or not found.proven_optimal


def test_the_solver_is_loaded_on_first_use_only() -> None:
    code = (
        "import sys, app.main, app.lines.solve, app.review.lines.planned;"
        "print('ortools' in sys.modules)"
    )
    told = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert told.stdout.strip() == "False"


def first_of_all(asked: Problem, cost: tuple[int, int, int]) -> Plan | None:
    """Of the plans of this cost the one with the first lumens, then the earliest starts."""
    lumens = (*asked.lumens, *new_lumens(asked, cost[0]))
    names = [one.id for one in asked.infusions]
    timed = [one for one in asked.infusions if not one.continuous]
    choices = [[lumen.id for lumen in lumens if may_have(one, lumen)] for one in asked.infusions]
    every_start = [starts(asked, one) for one in timed]
    if len(list(product(*choices))) * len(list(product(*every_start))) > WAYS_AT_MOST:
        return None
    for places in product(*choices):
        for at in product(*every_start):
            when = dict(zip((one.id for one in timed), at, strict=True))
            plan = laid_out(asked, dict(zip(names, places, strict=True)), when)
            found = (plan.extra_cannulas, plan.interruptions, plan.minutes_paused)
            if found == cost and not faults(asked, plan):
                return plan
    return None


def test_among_equals_the_first_lumens_then_the_earliest_starts() -> None:
    met = 0
    for seed in range(120):
        asked = random_problem(seed)
        plan = solve(asked).plan
        if plan is None:
            continue
        costs = (plan.extra_cannulas, plan.interruptions, plan.minutes_paused)
        first = first_of_all(asked, costs)
        if first is not None:
            assert plan == first, seed
            met += 1
    assert met > 20


def test_the_order_of_the_pairs_given_changes_nothing() -> None:
    one = problem((P1, P2), running("a"), dose("b", 30), dose("c", 30), apart="a b, a c, b c")
    other = problem((P1, P2), running("a"), dose("b", 30), dose("c", 30), apart="b c, a c, a b")
    assert solve(one).plan == solve(other).plan


def test_nothing_to_run_is_a_plan_with_nothing_in_it() -> None:
    found = solve(problem((P1,)))
    assert (found.feasible, found.plan) == (True, Plan((), 0, 0, 0))


def test_what_the_lumens_carry_together_is_as_much_as_can_be() -> None:
    asked = problem((P1,), running("a"), running("b"), running("c"), apart="a b, a c")
    everything = frozenset("abc")
    carrying = Carrying(asked)
    assert carrying.with_all(frozenset(), everything) == {"b", "c"}
    assert carrying.with_all(frozenset("a"), everything) == {"a"}
    assert carrying.with_all(frozenset("ab"), everything) is None
    assert carrying.with_all(frozenset(), frozenset("ab")) in ({"a"}, {"b"})


def test_how_little_a_dose_must_leave_its_room_so_that_all_run_together() -> None:
    asked = problem((P1,), dose("a", 60, 0, 60), dose("b", 60, 0, 720), apart="a b")
    assert Carrying(asked).least_move("b", 0, 40) == 20
    assert Carrying(asked).least_move("b", 90, 100) == 0
    assert Carrying(asked).least_move("b", 670, 700) == 10
    full = problem((P1,), dose("a", 700, 0, 700), dose("b", 60), apart="a b")
    assert Carrying(full).least_move("b", 0, 0) is None


def test_questions_asked_before_change_no_answer() -> None:
    for seed in range(40):
        asked = random_problem(30_000 + seed)
        names = tuple(asked.by_id())
        many = Carrying(asked)
        for place in range(len(names)):
            needed = frozenset(names[:place])
            again = many.with_all(needed, frozenset(names))
            alone = Carrying(asked).with_all(needed, frozenset(names))
            assert (again is None) == (alone is None), (seed, place)
            assert again is None or needed <= again
            assert again is None or len(again) == len(alone), (seed, place)


def test_a_dose_whose_window_holds_no_step_starts_as_early_as_it_may() -> None:
    asked = problem(
        (P1,), running("lr", pauses=True), dose("a", 60, 3, 63), dose("b", 30, 60, 100),
        apart="lr a, lr b, a b",
    )  # fmt: skip
    found = solve(asked)
    assert (runs(found.plan, "a"), runs(found.plan, "b")) == ([(3, 63)], [(65, 95)])
    assert cost(found.plan) == (0, 2, 90)
    assert found.plan is not None
    assert not faults(asked, found.plan)


def test_a_question_without_time_left_is_not_answered() -> None:
    asked = crowded(4)
    everything = frozenset(asked.by_id())
    with pytest.raises(NotProven):
        Carrying(asked, limit=0.0).with_all(everything, everything)


def test_alike_lumens_are_used_in_their_order() -> None:
    plan = solve(problem((P1, P2, C1), running("a"), running("b"), apart="a b")).plan
    assert where(plan) == {"a": "p1", "b": "p2"}
