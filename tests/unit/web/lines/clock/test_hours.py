"""What to do by the clock, as it is read aloud."""

from app.review.lines.bedside.planned import plan_bedside
from app.review.lines.bedside.problem import Means
from app.web.lines.clock.hours import ELSEWHERE, HANDED_OVER, hours_of
from tests.unit.review.lines.bedside.conftest import TWO, CaseOf
from tests.unit.review.lines.bedside.conftest import case_of as case_of
from tests.unit.review.lines.bedside.conftest import knowledge as knowledge
from tests.unit.web.lines.conftest import BedOf, PlanOf


def said(plan_of: PlanOf, bed_of: BedOf, bed: str, *failed: str) -> list[tuple[str, str, str]]:
    hours = hours_of(plan_of(bed, *failed), bed_of(bed).review.case)
    return [(hour.at, lumen, step.words)
            for hour in hours for lumen, steps in hour.lumens for step in steps]  # fmt: skip


def test_what_begins_and_goes_on_says_its_rate(plan_of: PlanOf, bed_of: BedOf) -> None:
    steps = said(plan_of, bed_of, "25")
    assert ("10:20", "Left forearm", "Resume compound sodium lactate at 80 mL/h.") in steps
    steps = said(plan_of, bed_of, "11")
    assert any(words.startswith("Start piperacillin tazobactam, dose 1 at 200 mL/h, 30 min")
               for _, _, words in steps)  # fmt: skip


def test_the_next_bag_has_its_time(plan_of: PlanOf, bed_of: BedOf) -> None:
    assert said(plan_of, bed_of, "23")[-1] == (
        "12:07", "Left hand",
        "0.9% sodium chloride with potassium chloride: this bag is empty about now. Hang the next "
        "if it is to go on.",
    )  # fmt: skip


def test_what_must_not_stop_is_changed_over_and_stands_first(
    plan_of: PlanOf, bed_of: BedOf
) -> None:
    steps = said(plan_of, bed_of, "25", "right elbow")
    assert [words for at, lumen, words in steps if (at, lumen) == ("07:05", "Left forearm")] == [
        "Stop compound sodium lactate here: it goes on by new cannula 1.",
        "Flush with 5 mL of 0.9% sodium chloride: the first 1 mL slowly, the rest over about "
        "1 min.",
        f"Move norepinephrine here from right elbow. {HANDED_OVER}",
    ]
    assert steps[0][1] == "Left forearm"


def test_a_bag_that_ends_says_what_to_ask(plan_of: PlanOf, bed_of: BedOf) -> None:
    ends = [words for _, _, words in said(plan_of, bed_of, "03") if words.startswith("End of")]
    assert ends == [
        "End of 0.9% sodium chloride with potassium chloride. Insulin runs on: ask beforehand what "
        "follows.",
        "End of 10% glucose. Insulin must not run on without glucose.",
    ]
    assert "End of lactated Ringer's." in {words for _, _, words in said(plan_of, bed_of, "11")}


def test_what_runs_already_is_not_started_a_second_time(case_of: CaseOf, means: Means) -> None:
    case = case_of(co=[{"name": "insulin 3 units/h", "kind": "drug"}], access=TWO)
    ((_, steps),) = hours_of(plan_bedside(case, means), case)[0].lumens
    assert [step.words for step in steps] == [f"Start insulin. {ELSEWHERE}"]
