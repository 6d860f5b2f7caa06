"""Ways out and trying everything agree: no change that saves a cannula is missed or untrue."""

from collections.abc import Iterator
from dataclasses import replace

import pytest

from app.lines.clash import with_clash
from app.lines.model import Infusion, Lumen, Problem
from app.lines.solve import solve
from app.lines.ways import Kind, ways_out
from tests.property.line_problems import best_cost, random_problem

SEEDS = range(50_000, 50_080)
BUNDLE = 20
NO_PLAN = 4
Cost = tuple[int, int, int]


def one_changed(problem: Problem, changed: Infusion) -> Problem:
    others = (changed if one.id == changed.id else one for one in problem.infusions)
    return replace(problem, infusions=tuple(others))


def changes(problem: Problem) -> Iterator[tuple[Kind, str | None, Problem]]:
    """Every single change but a dose moved."""
    for one in problem.infusions:
        rest = tuple(other for other in problem.infusions if other != one)
        yield "leave out", one.id, replace(problem, infusions=rest)
        free = one.may_pause and one.max_pause_min is None
        if one.continuous and not free and one.role != "vasoactive":
            freed = replace(one, may_pause=True, max_pause_min=None)
            yield "pause", one.id, one_changed(problem, freed)


def least_move(problem: Problem, dose: Infusion, needed: int) -> tuple[int, Cost] | None:
    """By how little a dose must leave its window to save a cannula, and what that plan costs."""
    horizon, step = problem.horizon_min, problem.step_min
    end = horizon if dose.latest_end_min is None else min(horizon, dose.latest_end_min)
    length = dose.duration_min or 0
    starts = range(0, horizon - length + 1, step)
    moves = {max(dose.earliest_start_min - at, at + length - end) for at in starts}
    for move in sorted(minutes for minutes in moves if minutes > 0):
        first, last = max(0, dose.earliest_start_min - move), min(horizon, end + move)
        wider = replace(dose, earliest_start_min=first, latest_end_min=last)
        cost = best_cost(one_changed(problem, wider))
        if cost is not None and cost[0] < needed:
            return move, cost
    return None


@pytest.mark.parametrize("at", range(0, len(SEEDS), BUNDLE))
def test_every_single_change_that_saves_a_cannula_is_offered_with_what_it_costs(at: int) -> None:
    met = 0
    for seed in SEEDS[at : at + BUNDLE]:
        problem = random_problem(seed)
        found = with_clash(problem, solve(problem))
        if found.feasible:
            continue
        needed = NO_PLAN if found.plan is None else found.plan.extra_cannulas
        offered = {
            (way.kind, way.infusion_id): (
                way.plan.extra_cannulas, way.plan.interruptions, way.plan.minutes_paused,
            )
            for way in ways_out(problem, found)
            if way.kind in ("leave out", "pause")
        }  # fmt: skip
        costs = {(kind, name): best_cost(changed) for kind, name, changed in changes(problem)}
        helping = {what: cost for what, cost in costs.items() if cost and cost[0] < needed}
        assert offered == helping, seed
        met += len(helping)
    assert met


@pytest.mark.parametrize("at", range(0, len(SEEDS), BUNDLE))
def test_a_dose_is_moved_by_no_more_than_it_takes_and_wherever_that_helps(at: int) -> None:
    for seed in SEEDS[at : at + BUNDLE]:
        problem = random_problem(seed)
        found = with_clash(problem, solve(problem))
        if found.feasible:
            continue
        needed = NO_PLAN if found.plan is None else found.plan.extra_cannulas
        moves = {
            way.infusion_id: (
                abs(way.minutes),
                (way.plan.extra_cannulas, way.plan.interruptions, way.plan.minutes_paused),
            )
            for way in ways_out(problem, found)
            if way.kind == "move"
        }
        doses = [one for one in problem.infusions if not one.continuous]
        least = {one.id: least_move(problem, one, needed) for one in doses}
        assert moves == {name: move for name, move in least.items() if move is not None}, seed


def test_central_access_is_asked_for_with_as_few_lumens_as_help() -> None:
    met = 0
    for seed in SEEDS:
        problem = random_problem(seed)
        found = with_clash(problem, solve(problem))
        for way in ways_out(problem, found):
            if way.kind == "central line":
                met += 1
                lumens = [Lumen(f"central {at}", "central") for at in range(way.central_lumens)]
                with_them = replace(problem, lumens=(*problem.lumens, *lumens))
                assert best_cost(with_them) is not None, seed
                one_fewer = replace(problem, lumens=(*problem.lumens, *lumens[1:]))
                assert best_cost(one_fewer) is None, seed
    assert met
