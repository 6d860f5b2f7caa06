"""Times and lumens as they are said at the bedside."""

from dataclasses import replace
from datetime import UTC, datetime

from app.lines.model import Infusion, Placement, Plan, Problem, Run
from app.lines.steps import Step
from app.web.lines.words import at, gaps_of, long, lumen_title, runs_words, step_words, still_words

NOW = datetime(2031, 3, 4, 7, 5, tzinfo=UTC)
BLOOD = Infusion("b", "red cells", "blood", 120)
FLUID = Infusion("f", "saline", "continuous", may_pause=True, stays_on="p")
PROBLEM = Problem(720, 5, 5, (), (FLUID, BLOOD))


def test_minutes_are_told_by_the_clock() -> None:
    assert at(NOW, 0) == "07:05"
    assert at(NOW, 1020) == "00:05"


def test_lengths_are_said_in_hours_and_minutes() -> None:
    assert [long(minutes) for minutes in (0, 35, 60, 125, 235)] == [
        "0 min", "35 min", "1 h", "2 h 5 min", "3 h 55 min",
    ]  # fmt: skip


def test_runs_are_spans_of_the_clock() -> None:
    assert runs_words((Run(0, 720),), NOW, 720) == "throughout"
    assert runs_words((Run(0, 30), Run(60, 90)), NOW, 720) == "07:05 to 07:35 and 08:05 to 08:35"
    assert runs_words((), NOW, 720) == "not at all"


def test_what_begins_says_until_when() -> None:
    start = Step(70, "p", "start", "Start red cells: 120 min", "b")
    assert step_words(start, BLOOD, NOW) == (
        "Start red cells by a blood giving set, 2 h, until 10:15. Fetch it no earlier than 07:45."
    )
    assert step_words(replace(start, at_min=0), BLOOD, NOW).endswith("Fetch it now.")
    new = replace(start, at_min=0, lumen_id="new1")
    assert step_words(new, BLOOD, NOW).endswith("Fetch it once new cannula 1 is in.")
    assert step_words(Step(0, "p", "resume", "Resume saline", "f"), FLUID, NOW, "at 80 mL/h") == (
        "Resume saline at 80 mL/h."
    )
    assert step_words(Step(0, "p", "pause", "Pause saline", "f"), FLUID, NOW) == "Pause saline."


def test_lumens_are_headings() -> None:
    assert lumen_title("left hand") == "Left hand"
    assert lumen_title("new1") == "New cannula 1"


def test_gaps_are_what_lies_between_runs() -> None:
    assert list(gaps_of((Run(10, 20), Run(30, 40)), 40)) == [Run(0, 10), Run(20, 30)]
    assert list(gaps_of((Run(0, 40),), 40)) == []


def test_what_stands_still_is_counted_in_words() -> None:
    def plan(*runs: Run) -> Plan:
        return Plan((Placement("f", "p", runs), Placement("b", "p", (Run(0, 120),))), 0, 0, 0)

    assert still_words(PROBLEM, plan(Run(0, 720))) == "nothing is interrupted"
    assert still_words(PROBLEM, plan(Run(125, 720))) == "saline stands still once, 2 h 5 min"
    assert still_words(PROBLEM, plan(Run(5, 300), Run(330, 720))) == (
        "saline stands still twice, 35 min in all"
    )
    named = still_words(PROBLEM, plan(Run(125, 720)), {"f": "5% dextrose"})
    assert named.startswith("5% dextrose stands still")


def test_a_bag_that_is_held_is_not_called_uninterrupted() -> None:
    bag = replace(FLUID, kind="intermittent", duration_min=60, may_pause=False)
    plan = Plan((Placement("f", "p", (Run(95, 155),)),), 0, 0, 0)
    assert still_words(replace(PROBLEM, infusions=(bag,)), plan) == "saline is held for 1 h 35 min"
