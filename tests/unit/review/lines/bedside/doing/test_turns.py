"""What must not stop is done first of all that falls on one minute."""

from collections.abc import Mapping

from app.lines.steps import Step
from app.patient.case import Case
from app.review.lines.bedside.doing.turns import in_turn
from app.review.lines.bedside.planned import plan_bedside
from app.review.lines.bedside.problem import Means

FLUSH = Step(0, "p", "flush", "Flush")
MOVE = Step(0, "q", "move", "Move the pressor", "pressor")
PLACE = Step(0, "q", "place", "Place")
LATER = Step(5, "p", "start", "Start", "dose")


def test_what_is_urgent_moves_before_another_lumen_is_flushed() -> None:
    steps = in_turn([LATER, FLUSH, MOVE, PLACE], ["p"], {"pressor"}.__contains__)
    assert steps == (PLACE, MOVE, FLUSH, LATER)


def test_what_moves_does_so_before_the_lumen_it_leaves_is_cleared() -> None:
    assert in_turn([FLUSH, MOVE], ["p", "q"], set[str]().__contains__) == (MOVE, FLUSH)


def test_else_lumens_keep_their_order() -> None:
    other = Step(0, "q", "start", "Start", "dose")
    assert in_turn([other, FLUSH], ["p", "q"], set[str]().__contains__) == (FLUSH, other)


def test_insulin_that_lost_its_lumen_is_the_first_thing_done(
    demo: Mapping[str, Case], means: Means
) -> None:
    steps = plan_bedside(demo["03"], means, frozenset({"right forearm"})).found.steps
    assert [step.do for step in steps[:2]] == [
        "Place a new peripheral cannula", "Move insulin here from right forearm",
    ]  # fmt: skip
