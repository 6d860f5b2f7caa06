"""What to do by the clock."""

from app.lines.flush import FlushFluid
from app.lines.laid import laid_out
from app.lines.model import Plan, Problem
from app.lines.solve import solve
from app.lines.steps import flush_ml, steps_of
from tests.unit.lines.build import C1, P1, P2, dose, problem, running


def plan_of(asked: Problem) -> Plan:
    plan = solve(asked).plan
    assert plan is not None
    return plan


def told(asked: Problem, plan: Plan | None = None) -> list[str]:
    """Minute, lumen, what and about what."""
    steps = steps_of(asked, plan or plan_of(asked))
    return [f"{s.at_min} {s.lumen_id} {s.what} {s.infusion_id or ''}".strip() for s in steps]


def test_a_fluid_stops_is_flushed_out_and_resumes_after_another_flush() -> None:
    asked = problem((P1,), running("lr", pauses=True), dose("cef", 30, 60, 90), apart="lr cef")
    assert told(asked) == [
        "0 p1 start lr", "60 p1 pause lr", "60 p1 flush", "60 p1 start cef",
        "90 p1 end cef", "90 p1 flush", "90 p1 resume lr",
    ]  # fmt: skip


def test_flushes_that_take_time_begin_when_the_fluid_stops() -> None:
    asked = problem(
        (P1,), running("lr", pauses=True), dose("cef", 30, 60, 90), apart="lr cef", flush_min=5
    )
    assert told(asked)[1:] == [
        "55 p1 pause lr", "55 p1 flush", "60 p1 start cef",
        "90 p1 end cef", "90 p1 flush", "95 p1 resume lr",
    ]  # fmt: skip


def test_between_two_that_clash_there_is_one_flush() -> None:
    asked = problem(
        (P1,), running("lr", pauses=True), dose("a", 30, 60, 90), dose("b", 30, 90, 120),
        apart="lr a, lr b, a b",
    )  # fmt: skip
    assert told(asked)[1:] == [
        "60 p1 pause lr", "60 p1 flush", "60 p1 start a", "90 p1 end a", "90 p1 flush",
        "90 p1 start b", "120 p1 end b", "120 p1 flush", "120 p1 resume lr",
    ]  # fmt: skip


def test_a_dose_beside_a_fluid_that_it_may_meet_needs_no_flush() -> None:
    asked = problem((P1,), running("saline"), dose("cef", 30, 60, 90))
    assert told(asked) == ["0 p1 start saline", "60 p1 start cef", "90 p1 end cef"]


def test_a_dose_alone_on_a_lumen_is_flushed_in() -> None:
    asked = problem((P1,), dose("cef", 30, 60, 90))
    assert told(asked) == ["60 p1 start cef", "90 p1 end cef", "90 p1 flush"]


def test_a_dose_that_ends_while_another_still_runs_is_not_flushed_through_it() -> None:
    asked = problem(
        (P1,), running("lr", pauses=True), dose("short", 30, 60, 90), dose("long", 90, 60, 150),
        apart="lr short, lr long",
    )  # fmt: skip
    flushes = [line for line in told(asked) if "flush" in line]
    assert flushes == ["60 p1 flush", "150 p1 flush"]


def test_what_runs_now_goes_on_moves_or_stops_at_once() -> None:
    asked = problem(
        (P1, C1), running("stays", stays_on="p1"), running("moves", stays_on="c1"),
        dose("strong", 60, 0, 60, needs_central=True), apart="moves strong, moves stays",
    )  # fmt: skip
    plan = laid_out(
        problem((P1, P2, C1), *asked.infusions),
        {"stays": "p1", "moves": "p2", "strong": "c1"}, {"strong": 0},
    )  # fmt: skip
    assert told(problem((P1, P2, C1), *asked.infusions), plan)[:2] == [
        "0 p1 go on stays", "0 p2 move moves",
    ]  # fmt: skip


def test_what_runs_now_and_must_stop_at_once_is_paused_and_flushed_out() -> None:
    asked = problem(
        (P1,), running("lr", pauses=True, stays_on="p1"), dose("cef", 30, 0, 30), apart="lr cef"
    )
    assert told(asked) == [
        "0 p1 pause lr", "0 p1 flush", "0 p1 start cef", "30 p1 end cef", "30 p1 flush",
        "30 p1 resume lr",
    ]  # fmt: skip


def test_blood_that_runs_already_is_left_running() -> None:
    asked = problem((P1,), dose("red cells", 60, 0, 60, stays_on="p1"))
    first = steps_of(asked, plan_of(asked))[0]
    assert first.do == "Leave red cells running: 60 min"


def test_a_bag_that_runs_and_waits_for_what_clashes_is_paused_flushed_out_and_resumed() -> None:
    bag = dose("bag", 60, 0, 240, stays_on="p1")
    asked = problem((P1,), bag, dose("blood", 90, 0, 90), apart="bag blood", flush_min=5)
    assert told(asked) == [
        "0 p1 pause bag", "0 p1 flush", "0 p1 start blood", "90 p1 end blood", "90 p1 flush",
        "95 p1 resume bag", "155 p1 end bag", "155 p1 flush",
    ]  # fmt: skip


def test_a_new_cannula_is_placed_first() -> None:
    asked = problem((P1,), running("a"), running("b"), apart="a b")
    assert told(asked) == ["0 p1 start a", "0 new1 place", "0 new1 start b"]


def test_a_lumen_that_salt_spoils_is_flushed_with_something_else() -> None:
    asked = problem(
        (C1,), running("glucose", pauses=True), dose("amphotericin", 60, 60, 120),
        apart="glucose amphotericin",
    )  # fmt: skip
    glucose = FlushFluid("dextrose-5", "5% glucose")
    steps = steps_of(asked, plan_of(asked), flush_with={"amphotericin": glucose})
    assert [step.flush.fluid for step in steps if step.flush] == [glucose, glucose]


def test_what_flushes_bring_is_summed() -> None:
    asked = problem((P1, C1), dose("a", 30), dose("b", 30, needs_central=True), apart="a b")
    assert flush_ml(steps_of(asked, plan_of(asked))) == 15


def test_steps_are_sentences() -> None:
    asked = problem((P1,), running("lr", pauses=True), dose("cef", 30, 60, 90), apart="lr cef")
    said = [step.do for step in steps_of(asked, plan_of(asked))]
    assert said[0] == "Start lr"
    assert said[1] == "Pause lr"
    assert said[3] == "Start cef: 30 min"
    assert said[4] == "End of cef"
    assert said[6] == "Resume lr"
