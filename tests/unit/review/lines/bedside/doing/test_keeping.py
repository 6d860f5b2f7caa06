"""A vasoactive drug keeps its lumen, or has one at once when its own fails."""

from collections.abc import Mapping

from app.lines.check import faults
from app.patient.case import Case
from app.review.lines.bedside.doing.keeping import with_its_lumen
from app.review.lines.bedside.planned import plan_bedside
from app.review.lines.bedside.problem import Means
from tests.unit.review.lines.bedside.conftest import (
    CALCIUM_FLUID,
    CEFTRIAXONE,
    CENTRAL,
    ONE,
    PRESSOR,
    TWO,
    CaseOf,
)

HERE = PRESSOR | {"lumen": "left hand"}


def test_when_its_lumen_fails_it_has_the_working_one_and_fluids_wait(
    demo: Mapping[str, Case], means: Means
) -> None:
    made = plan_bedside(demo["25"], means, frozenset({"right elbow"}))
    plan = made.found.solution.plan
    assert plan is not None
    where = {placed.infusion_id: placed.lumen_id for placed in plan.placements}
    assert where["co_infusions[0]"] == "left forearm"
    assert {where[name] for name in where if name != "co_infusions[0]"} == {"new1"}
    assert plan.extra_cannulas == 1
    assert faults(made.bedside.problem, plan) == ()


def test_the_fluid_moves_and_not_the_vasoactive_drug_beside_it(
    case_of: CaseOf, means: Means
) -> None:
    made = plan_bedside(case_of(CALCIUM_FLUID, co=[CEFTRIAXONE, HERE], access=TWO), means)
    said = [(step.lumen_id, step.do) for step in made.found.steps]
    assert ("left hand", "Leave norepinephrine running") in said
    assert not any("Move norepinephrine" in do for _, do in said)


def test_it_still_moves_to_a_central_lumen_where_there_is_one(
    case_of: CaseOf, means: Means
) -> None:
    made = plan_bedside(case_of(co=[HERE], access=(*ONE, CENTRAL)), means)
    assert [step.do for step in made.found.steps if step.lumen_id == "neck"] == [
        "Move norepinephrine here from left hand"
    ]


def test_no_more_cannulas_are_asked_for_than_before(case_of: CaseOf, means: Means) -> None:
    made = plan_bedside(case_of(CALCIUM_FLUID, co=[HERE]), means)
    kept = with_its_lumen(made.bedside.problem, made.bedside.told, made.found.solution)
    assert kept.plan is not None
    assert kept.plan.extra_cannulas == 1


def test_no_plan_stays_no_plan(demo: Mapping[str, Case], means: Means) -> None:
    made = plan_bedside(demo["20"], means)
    solution = made.found.solution
    assert with_its_lumen(made.bedside.problem, made.bedside.told, solution) is solution
