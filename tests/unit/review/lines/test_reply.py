"""The reply of POST /api/line-plan."""

import json

from app.review.lines.reply import reply_of
from tests.unit.review.lines.shift import BARRED, TIGHT, plan


def test_a_plan_that_fits_has_its_costs_runs_and_steps() -> None:
    reply = reply_of(plan())
    assert (reply["feasible"], reply["proven_optimal"]) == (True, True)
    costs = (reply["extra_cannulas"], reply["interruptions"], reply["minutes_paused"])
    assert costs == (0, 1, 240)
    assert reply["plan"][0] == {
        "infusion_id": "lr", "lumen_id": "p1", "runs": [[0, 120], [360, 720]],
    }  # fmt: skip
    assert reply["why_not"] is None
    assert reply["ways_out"] == []
    assert reply["steps"][0] == {
        "at_min": 0, "lumen_id": "p1", "do": "Start lactated Ringer's 100 mL/h", "what": "start",
    }  # fmt: skip
    assert reply["flush_ml"] == 15


def test_a_plan_with_a_new_cannula_is_shown_and_is_not_feasible() -> None:
    reply = reply_of(plan(TIGHT))
    assert reply["feasible"] is False
    assert reply["extra_cannulas"] == 1
    assert {one["lumen_id"] for one in reply["plan"]} == {"p1", "new1"}
    assert reply["why_not"]["clash"] == ["lr", "cef", "rbc"]
    assert reply["why_not"]["minimal_proven"] is True
    assert all({"change", "effect"} <= set(way) for way in reply["ways_out"])


def test_without_a_plan_there_are_no_costs() -> None:
    reply = reply_of(plan(BARRED))
    costs = (reply["extra_cannulas"], reply["interruptions"], reply["minutes_paused"])
    assert costs == (None, None, None)
    assert (reply["plan"], reply["steps"]) == ([], [])
    assert reply["why_not"]["clash"] == ["lr", "cef"]
    assert reply["proven_optimal"] is True
    assert reply["keep_apart"] == [{"pair": ["lr", "cef"], "scope": "patient", "why": ""}]


def test_every_reply_is_plain_data() -> None:
    for found in (plan(), plan(TIGHT), plan(BARRED)):
        assert json.loads(json.dumps(reply_of(found)))
