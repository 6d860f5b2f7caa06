"""On small problems the solver and trying everything agree, plan for plan."""

from itertools import combinations

import pytest

from app.lines.check import faults
from app.lines.clash import with_clash
from app.lines.model import Plan
from app.lines.solve import solve
from app.review.lines.asked import read_lines
from app.review.lines.planned import plan_lines
from app.review.lines.reply import reply_of
from tests.property.line_problems import (
    best_cost,
    carried_by_those_given,
    random_problem,
    request_of,
)

SEEDS = range(500)
EXTRA_SEEDS = range(200)
CLASH_SEEDS = range(200)
MARKED_SEEDS = range(200)
ASKED_SEEDS = range(150)
BUNDLE = 50


def bundles(seeds: range) -> list[range]:
    return [seeds[at : at + BUNDLE] for at in range(0, len(seeds), BUNDLE)]


def cost(plan: Plan | None) -> tuple[int, int, int] | None:
    if plan is None:
        return None
    return plan.extra_cannulas, plan.interruptions, plan.minutes_paused


@pytest.mark.parametrize("seeds", bundles(SEEDS), ids=str)
def test_no_plan_is_better_than_the_one_found_and_that_passes_the_check(seeds: range) -> None:
    for seed in seeds:
        problem = random_problem(seed)
        found = solve(problem)
        assert found.proven_optimal, seed
        assert cost(found.plan) == best_cost(problem), seed
        assert found.feasible == (found.plan is not None and not found.plan.extra_cannulas), seed
        assert not found.plan or not faults(problem, found.plan), seed


@pytest.mark.parametrize("seeds", bundles(EXTRA_SEEDS), ids=str)
def test_nor_with_carriers_and_a_limit_of_what_is_connected(seeds: range) -> None:
    for seed in seeds:
        problem = random_problem(seed, extras=True)
        found = solve(problem)
        assert cost(found.plan) == best_cost(problem), seed
        assert not found.plan or not faults(problem, found.plan), seed


def test_the_problems_tried_are_of_every_sort() -> None:
    costs = [best_cost(random_problem(seed)) for seed in SEEDS]
    assert sum(one is None for one in costs) > 20
    assert {one[0] for one in costs if one} == {0, 1, 2, 3}
    assert sum(one is not None and one[1] > 0 for one in costs) > 75
    assert sum(one is not None and one[1] > 1 for one in costs) > 20


@pytest.mark.parametrize("seeds", bundles(CLASH_SEEDS), ids=str)
def test_what_is_said_to_clash_does_and_nothing_smaller_does(seeds: range) -> None:
    for seed in seeds:
        problem = random_problem(seed)
        found = with_clash(problem, solve(problem))
        if found.feasible:
            assert not found.clash, seed
            continue
        assert found.clash_proven, seed
        assert not carried_by_those_given(problem, found.clash), seed
        for fewer in combinations(found.clash, len(found.clash) - 1):
            assert carried_by_those_given(problem, fewer), (seed, fewer)
        if found.plan is not None:
            ids = tuple(problem.by_id())
            smaller = combinations(ids, len(found.clash) - 1)
            assert all(carried_by_those_given(problem, some) for some in smaller), seed


@pytest.mark.parametrize("seeds", bundles(MARKED_SEEDS), ids=str)
def test_no_plan_stops_what_is_marked_not_to_be_interrupted(seeds: range) -> None:
    met = 0
    for seed in seeds:
        problem = random_problem(10_000 + seed)
        plan = solve(problem).plan
        marked = {one.id for one in problem.infusions if one.continuous and not one.may_pause}
        for placed in plan.placements if plan is not None else ():
            if placed.infusion_id in marked:
                (run,) = placed.runs
                assert (run.start_min, run.end_min) == (0, problem.horizon_min), seed
                met += 1
    assert met


@pytest.mark.parametrize("seeds", bundles(ASKED_SEEDS), ids=str)
def test_the_outside_interface_gives_the_best_plan(seeds: range) -> None:
    off_step = 0
    for seed in seeds:
        problem = random_problem(20_000 + seed)
        off_step += any("No step" in note.text for note in read_lines(request_of(problem)).notes)
        reply = reply_of(plan_lines(request_of(problem), keep_apart_of=lambda names: ()))
        costs = (reply["extra_cannulas"], reply["interruptions"], reply["minutes_paused"])
        best = best_cost(problem)
        assert costs == (best or (None, None, None)), seed
        assert reply["feasible"] == (best is not None and best[0] == 0), seed
        assert reply["proven_optimal"], seed
        assert len(reply["plan"]) == (len(problem.infusions) if best else 0), seed
        assert reply["feasible"] or reply["why_not"]["text"], seed
    assert 0 < off_step < len(seeds) / 2


@pytest.mark.parametrize("seed", range(0, 60, 3))
def test_the_same_problem_has_the_same_plan(seed: int) -> None:
    assert solve(random_problem(seed)) == solve(random_problem(seed))
