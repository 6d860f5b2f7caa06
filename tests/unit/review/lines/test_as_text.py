"""A line plan for a terminal."""

import json
from dataclasses import replace

from app.review.lines.as_text import USUAL_CAUTION, as_json, clock, headline, lines_of
from tests.unit.review.lines.shift import BARRED, TIGHT, changed, plan


def test_the_answer_comes_first_then_the_steps_by_the_clock() -> None:
    lines = list(lines_of(plan()))
    assert lines[0] == ("The lumens given suffice: 1 interruption, 240 min in all; proven best.")
    assert lines[2] == "0:00  p1  Start lactated Ringer's 100 mL/h."
    assert "2:00  p1  Pause lactated Ringer's 100 mL/h." in lines
    assert "p1: lactated Ringer's 100 mL/h, 0:00 to 2:00, 6:00 to 12:00" in lines
    assert lines[-1] == USUAL_CAUTION


def test_where_lumens_are_short_the_clash_the_plan_and_the_ways_out_are_told() -> None:
    lines = list(lines_of(plan(TIGHT)))
    assert "cannot all run on the one lumen given" in lines[0]
    assert lines[0].endswith(
        "The plan below needs 1 new peripheral cannula: nothing is interrupted; proven best."
    )
    assert any(line.startswith("Way out: Place one more peripheral cannula.") for line in lines)


def test_where_nothing_helps_there_are_no_steps() -> None:
    lines = list(lines_of(plan(BARRED)))
    assert lines[0].endswith("No line plan can be right.")
    assert not any(":00  " in line for line in lines)


def test_what_is_not_proven_best_is_never_called_best() -> None:
    found = plan()
    unproven = replace(found, solution=replace(found.solution, proven_optimal=False))
    assert headline(unproven).endswith("the best found, not proven best.")


def test_notes_say_how_the_request_was_read() -> None:
    assert any(line.startswith("Note: infusions[2].may_share") for line in lines_of(plan()))


def test_the_clock_counts_from_the_beginning() -> None:
    assert [clock(at) for at in (0, 5, 65, 720)] == ["0:00", "0:05", "1:05", "12:00"]


def test_the_json_is_the_reply() -> None:
    assert json.loads(as_json(plan()))["minutes_paused"] == 240


def test_a_name_steers_no_terminal_and_breaks_no_line() -> None:
    lines = list(lines_of(plan(changed("infusions.0.name", "saline\x1b[31m\nat 5 mL/h"))))
    assert "0:00  p1  Start saline [31m at 5 mL/h." in lines
