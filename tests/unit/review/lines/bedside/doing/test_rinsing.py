"""No lumen holds what spoils the next infusion."""

from collections.abc import Sequence

from app.lines.flush import SALINE, FlushFluid, flush_of
from app.lines.steps import Step
from app.review.lines.bedside.doing.rinsing import rinsed
from app.review.lines.bedside.doing.spoiling import GLUCOSE
from app.review.lines.bedside.planned import plan_bedside
from app.review.lines.bedside.problem import Means
from tests.unit.review.lines.bedside.conftest import RED_CELLS, CaseOf

AMIODARONE = {"name": "amiodarone 300 mg in 5% glucose over 30 min", "kind": "drug"}


def flush(at_min: int, fluid: FlushFluid) -> Step:
    made = flush_of("peripheral", fluid)
    return Step(at_min, "p", "flush", "Flush", flush=made)


def start(at_min: int, name: str) -> Step:
    return Step(at_min, "p", "start", f"Start {name}", name)


def fluids(steps: Sequence[Step]) -> list[str]:
    return [step.flush.fluid.id if step.flush else step.do for step in steps]


def rinse(*steps: Step) -> list[str]:
    needs = {"salt": SALINE, "glucose": GLUCOSE}
    return fluids(rinsed(steps, needs, lambda _, fluid: flush_of("peripheral", fluid)))


def test_after_dextrose_salt_solution_goes_before_what_does_not_bear_dextrose() -> None:
    assert rinse(flush(30, GLUCOSE), start(35, "salt")) == [
        "dextrose-5", "sodium-chloride-0.9", "Start salt",
    ]  # fmt: skip
    assert rinse(flush(30, GLUCOSE), start(35, "either")) == ["dextrose-5", "Start either"]


def test_after_salt_solution_dextrose_goes_before_what_salt_spoils() -> None:
    both = ["sodium-chloride-0.9", "dextrose-5", "Start glucose"]
    assert rinse(flush(30, SALINE), start(35, "glucose")) == both


def test_an_idle_lumen_is_flushed_with_dextrose_before_what_salt_spoils() -> None:
    assert rinse(start(0, "glucose")) == ["dextrose-5", "Start glucose"]
    assert rinse(start(0, "salt")) == ["Start salt"]


def test_each_flush_counts_once() -> None:
    assert rinse(flush(30, GLUCOSE), start(35, "either"), start(40, "salt")) == [
        "dextrose-5", "Start either", "Start salt",
    ]  # fmt: skip


def test_blood_after_amiodarone_follows_salt_solution(case_of: CaseOf, means: Means) -> None:
    made = plan_bedside(case_of(co=[AMIODARONE, RED_CELLS]), means)
    before = [step for step in made.found.steps if step.at_min <= 35]
    assert fluids(before)[-4:] == [
        "End of amiodarone", "dextrose-5", "sodium-chloride-0.9", "Start red cells: 120 min",
    ]  # fmt: skip
