"""One patient's plan, from the case to the steps; every demo patient's is checked."""

from collections.abc import Mapping

import pytest

from app.lines.check import faults
from app.patient.case import Case
from app.review.lines.bedside.planned import lumen_words, plan_bedside
from app.review.lines.bedside.problem import Means
from tests.unit.review.lines.bedside.conftest import (
    CALCIUM_FLUID,
    CEFTRIAXONE,
    CENTRAL,
    PRESSOR,
    RED_CELLS,
    TWO,
    CaseOf,
)

BEDS = [f"{number:02}" for number in range(1, 26)]
LEFT = frozenset({"left forearm"})


@pytest.mark.parametrize("bed", BEDS)
def test_every_demo_patient_has_a_plan_that_holds_or_is_told_why_not(
    demo: Mapping[str, Case], means: Means, bed: str
) -> None:
    made = plan_bedside(demo[bed], means)
    plan, solution = made.found.solution.plan, made.found.solution
    assert not made.found.withheld
    assert solution.proven_optimal
    if plan is None:
        assert solution.barred is not None
    else:
        assert faults(made.bedside.problem, plan) == ()


def test_two_cannulas_carry_what_needs_four_in_turn(demo: Mapping[str, Case], means: Means) -> None:
    made = plan_bedside(demo["25"], means)
    plan = made.found.solution.plan
    assert plan is not None
    assert made.found.solution.feasible
    alone = [p.lumen_id for p in plan.placements if p.lumen_id == "right elbow"]
    assert alone == ["right elbow"]
    assert (plan.interruptions, plan.minutes_paused) == (2, 235)
    said = [step.do for step in made.found.steps]
    assert "Leave norepinephrine running" in said
    assert "Start ceftriaxone: 30 min" in said


def test_a_drug_that_must_not_stop_is_never_paused_in_any_demo_plan(
    demo: Mapping[str, Case], means: Means
) -> None:
    for case in demo.values():
        made = plan_bedside(case, means)
        never = {item.id for item in made.bedside.items if item.never}
        paused = {s.infusion_id for s in made.found.steps if s.what == "pause"}
        assert not never & paused


def test_a_newborn_who_must_not_have_both_is_offered_no_cannula(
    demo: Mapping[str, Case], means: Means
) -> None:
    made = plan_bedside(demo["20"], means)
    assert made.found.solution.plan is None
    assert {way.kind for way in made.found.ways} == {"leave out"}
    assert made.decisions == ()


def test_one_cannula_for_blood_and_a_calcium_fluid_is_too_few_and_says_why(
    demo: Mapping[str, Case], means: Means
) -> None:
    made = plan_bedside(demo["09"], means)
    assert not made.found.solution.feasible
    assert made.found.solution.clash == ("o1", "co_infusions[0]")
    assert {"move", "replace", "cannula"} <= {way.kind for way in made.found.ways}


def test_a_failed_lumen_moves_what_ran_there_and_nothing_else(
    demo: Mapping[str, Case], means: Means
) -> None:
    made = plan_bedside(demo["25"], means, LEFT)
    plan = made.found.solution.plan
    assert plan is not None
    assert not made.found.solution.feasible
    where = {p.infusion_id: p.lumen_id for p in plan.placements}
    assert where["co_infusions[0]"] == "right elbow"
    assert made.changes[0].startswith("New cannula 1 instead of left forearm: compound sodium")
    assert made.changes[-1] == "Where they were: norepinephrine."
    assert "Move compound sodium lactate here from left forearm" in {
        step.do for step in made.found.steps
    }


def test_as_it_was_gives_the_plan_as_it_was(demo: Mapping[str, Case], means: Means) -> None:
    before, after = plan_bedside(demo["25"], means), plan_bedside(demo["25"], means)
    assert before == after
    assert before.changes == ()


def test_a_lumen_that_carried_nothing_changes_nothing_when_it_fails(
    case_of: CaseOf, means: Means
) -> None:
    made = plan_bedside(case_of(CALCIUM_FLUID, access=TWO), means, frozenset({"right hand"}))
    assert made.found.solution.feasible
    assert made.changes == ("Where they were: compound sodium lactate.",)


def test_a_dose_that_does_not_run_yet_is_started_wherever_it_was_written(
    case_of: CaseOf, means: Means
) -> None:
    placed = CEFTRIAXONE | {"lumen": "right hand"}
    made = plan_bedside(case_of(CALCIUM_FLUID, co=[placed], access=TWO), means)
    steps = [step for step in made.found.steps if step.infusion_id == "co_infusions[0]"]
    assert [(step.what, step.lumen_id) for step in steps] == [
        ("start", "right hand"), ("end", "right hand"),
    ]  # fmt: skip


def test_a_fluid_that_is_held_is_paused_and_flushed_before_blood_starts(
    case_of: CaseOf, means: Means
) -> None:
    bag = CALCIUM_FLUID | {
        "volume_ml": 500, "rate_ml_h": 125, "duration_h": 4,
        "starts_at": "2031-03-04T05:00:00Z", "purpose": "replacement",
        "order_text": "500 mL over 4 h",
    }  # fmt: skip
    made = plan_bedside(case_of(bag, co=[RED_CELLS | {"name": "red cells over 90 min"}]), means)
    said = [(step.at_min, step.what) for step in made.found.steps]
    assert said[:3] == [(0, "pause"), (0, "flush"), (0, "start")]
    assert (95, "resume") in said


def test_a_patient_without_a_lumen_needs_new_ones(case_of: CaseOf, means: Means) -> None:
    made = plan_bedside(case_of(CALCIUM_FLUID | {"lumen": None}, access=()), means)
    plan = made.found.solution.plan
    assert plan is not None
    assert plan.extra_cannulas == 1


def test_a_patient_with_nothing_running_has_an_empty_plan(case_of: CaseOf, means: Means) -> None:
    made = plan_bedside(case_of(), means)
    assert made.found.steps == ()
    assert made.found.solution.feasible


def test_a_vasoactive_drug_and_a_fluid_on_one_cannula_may_be_settled_by_a_pharmacist(
    case_of: CaseOf, means: Means
) -> None:
    made = plan_bedside(case_of(CALCIUM_FLUID, co=[PRESSOR]), means)
    (one,) = made.decisions
    assert one.sources == ("o1", "co_infusions[0]")
    assert one.plan.extra_cannulas == 0


def test_a_lumen_is_named_by_its_site_and_a_new_one_by_its_number() -> None:
    assert lumen_words("left hand") == "left hand"
    assert lumen_words("new2") == "new cannula 2"
    assert lumen_words("newborn line") == "newborn line"


def test_a_plan_says_where_two_share_a_lumen_by_a_word_from_memory(
    case_of: CaseOf, means: Means
) -> None:
    other = {"name": "vasopressin 20 units in 50 mL dextrose 5% 2 mL/h", "kind": "drug"}
    made = plan_bedside(case_of(co=[PRESSOR, other], access=[CENTRAL]), means)
    assert made.found.solution.feasible
    (line,) = made.leaning
    assert line.startswith("Confirm with pharmacy first, for it is from memory")
    assert plan_bedside(case_of(co=[PRESSOR], access=[CENTRAL]), means).leaning == ()


@pytest.mark.parametrize("bed", BEDS)
def test_whichever_lumen_fails_the_plan_holds_and_nothing_that_must_run_stands_still(
    demo: Mapping[str, Case], means: Means, bed: str
) -> None:
    for lumen in demo[bed].patient.access:
        made = plan_bedside(demo[bed], means, frozenset({lumen.id}))
        plan = made.found.solution.plan
        assert not made.found.withheld
        if plan is None:
            continue
        assert faults(made.bedside.problem, plan) == ()
        assert all(placed.lumen_id != lumen.id for placed in plan.placements)
        must_run = {item.id for item in made.bedside.items if item.must_run}
        halted = (step for step in made.found.steps if step.what == "pause")
        assert all(step.infusion_id not in must_run or step.do.startswith("Stop")
                   for step in halted)  # fmt: skip
