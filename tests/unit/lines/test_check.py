"""The independent check finds every planted fault, and none in a good plan."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from app.lines.check import faults
from app.lines.model import Infusion, KeepApart, Lumen, Placement, Plan, Problem, Run
from tests.unit.lines.build import C1, P1, P2, dose, problem, run, running

# lr pauses on p1 for ceftriaxone and then, back to back, for blood; vasoactive on its own lumen.
KEPT = Lumen("c2", "central", "vasoactive")
GOOD_PROBLEM = problem(
    (P1, P2, C1, KEPT),
    running("lr", pauses=250),
    dose("cef", 30, 60, 240),
    dose("blood", 120, 0, 720, exclusive=True, may_share_with_exclusive=frozenset({"saline"})),
    running("nor", role="vasoactive", beside="carrier"),
    running("carrier", role="vasoactive"),
    running("potassium", needs_central=True),
    running("saline"),
    apart="lr cef, cef blood, lr potassium",
    flush_min=5,
    most_at_once=3,
)
GOOD = Plan(
    (
        Placement("lr", "p1", (Run(0, 55), Run(220, 720))),
        Placement("cef", "p1", run(60, 90)),
        Placement("blood", "p1", run(95, 215)),
        Placement("nor", "c2", run(0, 720)),
        Placement("carrier", "c2", run(0, 720)),
        Placement("potassium", "c1", run(0, 720)),
        Placement("saline", "p1", run(0, 720)),
    ),
    extra_cannulas=0,
    interruptions=1,
    minutes_paused=165,
)
Plant = Callable[[Problem, Plan], tuple[Problem, Plan]]


def placed(name: str, lumen: str, *runs: tuple[int, int]) -> Plant:
    """Put one infusion elsewhere."""
    new = Placement(name, lumen, tuple(Run(*one) for one in runs))

    def plant(asked: Problem, plan: Plan) -> tuple[Problem, Plan]:
        old = plan.placements
        moved = tuple(new if one.infusion_id == name else one for one in old)
        return asked, replace(plan, placements=moved)

    return plant


def told(**costs: int) -> Plant:
    """Say other costs than the plan has."""
    return lambda asked, plan: (asked, replace(plan, **costs))


def asked_for(name: str, **changes: object) -> Plant:
    """Ask something else of one infusion."""

    def changed(one: Infusion) -> Infusion:
        return replace(one, **changes) if one.id == name else one

    return lambda asked, plan: (
        replace(asked, infusions=tuple(changed(one) for one in asked.infusions)),
        plan,
    )


def rule(one: str, other: str, scope: str = "lumen") -> Plant:
    """Keep another pair apart."""
    more = KeepApart((one, other), scope)  # type: ignore[arg-type]
    return lambda asked, plan: (replace(asked, keep_apart=(*asked.keep_apart, more)), plan)


def without(name: str) -> Plant:
    """Forget an infusion."""
    return lambda asked, plan: (
        asked,
        replace(plan, placements=tuple(p for p in plan.placements if p.infusion_id != name)),
    )


def twice(name: str) -> Plant:
    """Plan an infusion a second time."""
    return lambda asked, plan: (
        asked,
        replace(
            plan,
            placements=(
                *plan.placements,
                *(one for one in plan.placements if one.infusion_id == name),
            ),
        ),
    )


PLANTED: dict[str, tuple[Plant, str]] = {
    "an infusion forgotten": (without("cef"), "cef is not in the plan"),
    "an infusion planned twice": (twice("cef"), "cef is planned twice"),
    "a lumen that is not there": (placed("cef", "p9", (60, 90)), "cef is on p9"),
    "a peripheral lumen for what needs central": (
        placed("potassium", "p2", (0, 720)), "potassium needs a central lumen",
    ),
    "a lumen kept for something else": (
        placed("saline", "c2", (0, 720)), "saline is on c2, which is kept for vasoactive",
    ),
    "a dose too short": (placed("cef", "p1", (60, 85)), "cef does not run unbroken for 30 min"),
    "a dose in two parts": (
        placed("cef", "p1", (60, 75), (80, 95)), "cef does not run unbroken for 30 min",
    ),
    "a dose before its window": (placed("cef", "p2", (55, 85)), "cef runs outside its window"),
    "a dose past its window": (placed("cef", "p2", (215, 245)), "cef runs outside its window"),
    "a dose past the plan": (placed("blood", "p2", (605, 725)), "blood runs outside its window"),
    "a start between steps": (placed("cef", "p2", (62, 92)), "cef does not start on a step"),
    "a fluid that runs on": (
        placed("lr", "p1", (0, 720)), "lr runs while it must stand still",
    ),
    "a fluid that runs through the flush": (
        placed("lr", "p1", (0, 60), (220, 720)), "lr runs while it must stand still",
    ),
    "a pause without need": (
        placed("lr", "p1", (0, 50), (220, 720)), "lr stands still without need",
    ),
    "a pause bridged": (
        placed("saline", "p1", (0, 100), (110, 720)), "saline stands still without need",
    ),
    "a fluid that runs past the plan": (
        placed("saline", "p1", (0, 730)), "saline runs outside the plan",
    ),
    "a marked infusion stopped": (
        asked_for("lr", may_pause=False), "lr is interrupted and must not be",
    ),
    "a pause too long": (
        asked_for("lr", max_pause_min=164), "lr stands still for more than 164 min",
    ),
    "two that clash at one time": (
        placed("blood", "p1", (80, 200)), "cef and blood meet on a lumen",
    ),
    "two that clash without a flush between": (
        placed("blood", "p1", (90, 210)), "cef and blood meet on a lumen, or without a flush",
    ),
    "what is not named beside what is exclusive": (
        placed("potassium", "p1", (0, 720)), "blood and potassium meet on a lumen",
    ),
    "what is named and is kept apart": (
        rule("saline", "blood"), "blood and saline meet on a lumen",
    ),
    "two fluids that clash on one lumen": (
        placed("potassium", "p1", (0, 720)), "lr and potassium share a lumen for good",
    ),
    "a pair barred for the patient": (
        rule("cef", "potassium", "patient"), "cef and potassium must not both be given",
    ),
    "what is carried elsewhere": (
        placed("nor", "c1", (0, 720)), "nor is not on the lumen of carrier",
    ),
    "what is carried while its carrier stands still": (
        placed("carrier", "c2", (10, 720)), "nor runs while carrier, which carries it",
    ),
    "too many on one lumen": (
        lambda asked, plan: (replace(asked, most_at_once=2), plan),
        "more than 2 are connected to p1",
    ),
    "a run that ends before it begins": (
        placed("saline", "p1", (0, 720), (9, 9)), "saline has a run that ends before it begins",
    ),
    "cannulas not counted": (
        placed("saline", "new1", (0, 720)), "new cannulas: the plan says 0 and has 1",
    ),
    "cannulas counted that are not there": (
        told(extra_cannulas=1), "new cannulas: the plan says 1 and has 0",
    ),
    "interruptions miscounted": (
        told(interruptions=2), "interruptions: the plan says 2 and has 1",
    ),
    "minutes miscounted": (
        told(minutes_paused=170), "minutes paused: the plan says 170 and has 165",
    ),
}  # fmt: skip


def test_a_good_plan_has_no_fault() -> None:
    assert faults(GOOD_PROBLEM, GOOD) == ()


@pytest.mark.parametrize("name", PLANTED)
def test_a_planted_fault_is_found(name: str) -> None:
    plant, said = PLANTED[name]
    found = faults(*plant(GOOD_PROBLEM, GOOD))
    assert any(fault.startswith(said) for fault in found), found


def test_something_that_nobody_asked_for_is_found() -> None:
    more = (*GOOD.placements, Placement("mystery", "p1", run(0, 5)))
    assert faults(GOOD_PROBLEM, replace(GOOD, placements=more)) == ("mystery was not asked for",)


def test_more_than_three_new_cannulas_are_too_many() -> None:
    names = [f"i{at}" for at in range(4)]
    asked = problem((P1,), *(running(name) for name in names))
    places = tuple(Placement(name, f"new{at}", run(0, 720)) for at, name in enumerate(names))
    assert faults(asked, Plan(places, 4, 0, 0)) == ("more than 3 new cannulas",)


def test_pauses_at_both_ends_of_the_plan_count() -> None:
    asked = problem(
        (P1,), running("lr", pauses=True), dose("a", 60, 0, 60), dose("b", 60, 660, 720),
        apart="lr a, lr b",
    )  # fmt: skip
    places = (
        Placement("lr", "p1", run(60, 660)),
        Placement("a", "p1", run(0, 60)),
        Placement("b", "p1", run(660, 720)),
    )
    assert faults(asked, Plan(places, 0, 2, 120)) == ()


def test_a_fluid_stopped_throughout_has_no_run_and_one_interruption() -> None:
    asked = problem((P1,), running("lr", pauses=True), dose("a", 720), apart="lr a")
    places = (Placement("lr", "p1", ()), Placement("a", "p1", run(0, 720)))
    assert faults(asked, Plan(places, 0, 1, 720)) == ()


@pytest.mark.parametrize(
    ("start", "said"),
    [(63, ()), (64, ("cef does not start on a step of 5 min",))],
)
def test_where_no_step_is_in_the_window_a_dose_starts_with_it(
    start: int, said: tuple[str, ...]
) -> None:
    asked = problem((P1,), dose("cef", 30, 63, 94))
    places = (Placement("cef", "p1", run(start, start + 30)),)
    assert faults(asked, Plan(places, 0, 0, 0)) == said
