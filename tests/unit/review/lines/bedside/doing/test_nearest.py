"""Doses keep to their times where that costs nothing."""

from app.lines.check import faults
from app.lines.model import Infusion, KeepApart, Lumen, Placement, Plan, Problem, Run
from app.review.lines.bedside.doing.nearest import nearest

FLUID = Infusion("f", "fluid", "continuous", may_pause=True, stays_on="p")
FIRST = Infusion("a", "first", "intermittent", 30, 0, 90)
SECOND = Infusion("b", "second", "intermittent", 30, 60, 210)
LUMEN = (Lumen("p", "peripheral"),)
APART = (KeepApart(("a", "b")),)


def plan(*doses: tuple[str, int], fluid: tuple[Run, ...] = ()) -> Plan:
    placed = [Placement(name, "p", (Run(at, at + 30),)) for name, at in doses]
    gaps = max(0, len(fluid) - 1)
    still = 300 - sum(run.end_min - run.start_min for run in fluid) if fluid else 0
    runs = (Placement("f", "p", fluid),) if fluid else ()
    return Plan((*runs, *placed), 0, gaps, still)


def starts(made: Plan) -> dict[str, int]:
    return {placed.infusion_id: placed.runs[0].start_min for placed in made.placements}


def test_a_dose_given_an_hour_early_for_nothing_is_given_at_its_time() -> None:
    problem = Problem(300, 5, 5, LUMEN, (FIRST, SECOND), APART)
    made = nearest(problem, plan(("a", 0), ("b", 60)), {"a": 0, "b": 120})
    assert starts(made) == {"a": 0, "b": 120}
    assert faults(problem, made) == ()


def test_it_stops_where_it_would_meet_another_or_its_flush() -> None:
    wide = Infusion("a", "first", "intermittent", 30, 0, 300)
    problem = Problem(300, 5, 5, LUMEN, (wide, SECOND), APART)
    made = nearest(problem, plan(("a", 120), ("b", 60)), {"b": 120})
    assert starts(made) == {"a": 120, "b": 85}
    assert faults(problem, made) == ()


def test_it_does_not_make_a_fluid_stand_still_for_longer() -> None:
    rules = (*APART, KeepApart(("f", "a")), KeepApart(("f", "b")))
    late = Infusion("b", "second", "intermittent", 30, 35, 210)
    problem = Problem(300, 5, 5, LUMEN, (FLUID, FIRST, late), rules)
    together = plan(("a", 0), ("b", 35), fluid=(Run(70, 300),))
    together = Plan(together.placements, 0, 1, 70)
    assert nearest(problem, together, {"a": 0, "b": 120}) == together


def test_a_plan_that_breaks_a_rule_is_left_for_the_check_to_find() -> None:
    problem = Problem(300, 5, 5, LUMEN, (FIRST, SECOND), APART)
    wrong = plan(("a", 60), ("b", 60))
    assert nearest(problem, wrong, {"b": 120}) == wrong
