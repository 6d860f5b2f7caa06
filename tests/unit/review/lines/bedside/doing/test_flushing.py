"""Flushes of a patient's size, and what is done where something ran that harms by a surge."""

from collections.abc import Mapping

import pytest

from app.lines.flush import SETTINGS
from app.lines.model import Infusion, Lumen, Placement, Plan, Problem, Run
from app.lines.steps import Step, flush_ml, steps_of
from app.patient.case import Case
from app.review.lines.bedside.doing.flushing import CHILD, NEWBORN, Flushing, settings_of
from app.review.lines.bedside.planned import plan_bedside
from app.review.lines.bedside.problem import Means
from tests.unit.review.lines.bedside.conftest import CALCIUM_FLUID, CEFTRIAXONE, CaseOf

LUMENS = (Lumen("p", "peripheral"), Lumen("q", "peripheral"))


def infusion(name: str, here: str | None, *, minutes: int | None = None) -> Infusion:
    kind = "continuous" if minutes is None else "intermittent"
    return Infusion(name, name, kind, minutes, stays_on=here)  # type: ignore[arg-type]


def flushed(told: Problem, plan: Plan, *surging: str) -> tuple[Step, ...]:
    flushing = Flushing(told, SETTINGS, set(surging).__contains__, str)
    return flushing.of(plan, steps_of(told, plan))


@pytest.mark.parametrize(
    ("age", "settings"), [(0.01, NEWBORN), (4, CHILD), (60, SETTINGS), (None, SETTINGS)]
)
def test_a_flush_is_as_large_as_the_patient(
    case_of: CaseOf, age: float | None, settings: object
) -> None:
    assert settings_of(case_of(age_years=age).patient) is settings


def test_a_newborns_flushes_are_a_millilitre(case_of: CaseOf, means: Means) -> None:
    drug = {"name": "gentamicin 16 mg over 30 min once daily", "kind": "drug"}
    made = plan_bedside(case_of(co=[drug], age_years=0.01, weight_kg=3.2), means)
    (flush,) = (step for step in made.found.steps if step.what == "flush")
    assert flush.do.startswith("Flush with 1 mL of 0.9% sodium chloride: the first 0.5 mL slowly")
    assert flush_ml(made.found.steps) == 1


def test_what_leaves_a_lumen_is_flushed_out_before_what_must_not_meet_it(
    demo: Mapping[str, Case], means: Means
) -> None:
    made = plan_bedside(demo["25"], means, frozenset({"right elbow"}))
    said = [step.do.partition(":")[0] for step in made.found.steps
            if (step.at_min, step.lumen_id) == (0, "left forearm")]  # fmt: skip
    assert said == [
        "Stop compound sodium lactate here",
        "Flush with 5 mL of 0.9% sodium chloride",
        "Move norepinephrine here from right elbow",
    ]


def test_what_leaves_harmlessly_is_stopped_and_not_flushed() -> None:
    told = Problem(60, 5, 5, LUMENS, (infusion("salt", "p"), infusion("dose", None, minutes=30)))
    plan = Plan((Placement("salt", "q", (Run(0, 60),)), Placement("dose", "p", (Run(0, 30),))),
                0, 0, 0)  # fmt: skip
    assert {step.what for step in flushed(told, plan) if step.at_min == 0} == {"move", "start"}


def test_what_harms_by_a_surge_is_drawn_back_and_not_pushed_in() -> None:
    told = Problem(60, 5, 5, LUMENS, (infusion("pressor", "p"), infusion("dose", None, minutes=30)))
    plan = Plan((Placement("pressor", "q", (Run(0, 60),)), Placement("dose", "p", (Run(5, 35),))),
                0, 0, 0)  # fmt: skip
    (first, *_) = [step.do for step in flushed(told, plan, "pressor") if step.flush is not None
                   and step.at_min < 5]  # fmt: skip
    assert first == (
        "Draw back 1 mL first: it still holds pressor. Then flush with 5 mL of 0.9% sodium chloride"
    )


def test_an_empty_lumen_that_held_it_is_drawn_back_too() -> None:
    told = Problem(60, 5, 5, LUMENS, (infusion("pressor", "p"),))
    plan = Plan((Placement("pressor", "q", (Run(0, 60),)),), 0, 0, 0)
    assert any(
        step.do.startswith("Draw back 1 mL first") for step in flushed(told, plan, "pressor")
    )
    assert not any(step.flush for step in flushed(told, plan))


def test_no_flush_goes_through_a_lumen_on_which_it_runs_on() -> None:
    told = Problem(60, 5, 5, LUMENS, (infusion("pressor", "p"),))
    plan = Plan((Placement("pressor", "p", (Run(0, 60),)),), 0, 0, 0)
    flush = next(s for s in steps_of(*_ends()) if s.what == "flush")
    flushing = Flushing(told, SETTINGS, {"pressor"}.__contains__, str)
    (step,) = flushing.held_back(plan, flushing.of(plan, [flush]))
    assert step.flush is None
    assert step.do == (
        "No flush here: it would push in pressor, which runs on. Ask before the next one"
    )


def _ends() -> tuple[Problem, Plan]:
    """A dose alone on a lumen, after which it is flushed."""
    told = Problem(60, 5, 5, LUMENS, (infusion("dose", None, minutes=30),))
    return told, Plan((Placement("dose", "p", (Run(0, 30),)),), 0, 0, 0)


def test_an_adults_flush_is_as_it_was(case_of: CaseOf, means: Means) -> None:
    made = plan_bedside(case_of(CALCIUM_FLUID, co=[CEFTRIAXONE]), means)
    flushes = [step.do for step in made.found.steps if step.what == "flush"]
    assert len(flushes) == 2
    assert all(one.startswith("Flush with 5 mL") for one in flushes)


def test_what_runs_already_is_not_pushed_in_at_the_first_minute(
    case_of: CaseOf, means: Means
) -> None:
    """Amiodarone asks for dextrose first; by the lumen of insulin that would be a dose of it."""
    co = [
        {"name": "insulin 3 units/h", "kind": "drug", "lumen": "left hand"},
        {"name": "amiodarone 300 mg in 5% glucose over 60 min", "kind": "drug"},
    ]
    made = plan_bedside(case_of(co=co), means)
    assert not any(step.flush for step in made.found.steps if step.lumen_id == "left hand")
    assert any(step.do.startswith("No flush here: it would push in insulin")
               for step in made.found.steps)  # fmt: skip
