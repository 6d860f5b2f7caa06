"""A request planned: checked before it is shown, explained where the lumens are short."""

import pytest

from app.lines.model import KeepApart
from app.review.lines import planned as module
from app.review.lines.planned import plan_lines
from tests.unit.review.lines.shift import BARRED, NO_CENTRAL, REQUEST, TIGHT, changed, plan


def test_the_request_of_the_interface_page_fits_with_one_pause_of_four_hours() -> None:
    found = plan()
    assert found.solution.feasible
    assert found.solution.proven_optimal
    best = found.solution.plan
    assert best is not None
    assert (best.extra_cannulas, best.interruptions, best.minutes_paused) == (0, 1, 240)
    assert found.steps
    assert found.ways == ()


def test_a_minute_less_of_pause_asks_for_a_cannula_and_names_what_clashes() -> None:
    found = plan(TIGHT)
    assert not found.solution.feasible
    assert found.solution.clash == ("lr", "cef", "rbc")
    assert found.solution.plan is not None
    assert found.solution.plan.extra_cannulas == 1
    assert found.ways[0].kind == "cannula"


@pytest.mark.parametrize("request_", [BARRED, NO_CENTRAL])
def test_where_nothing_helps_there_is_no_plan_and_nothing_to_do(
    request_: dict[str, object],
) -> None:
    found = plan(request_)
    assert found.solution.plan is None
    assert found.steps == ()


def test_a_plan_that_does_not_pass_the_check_is_withheld(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "faults", lambda problem, plan: ("cef runs outside its window",))
    found = plan()
    assert found.withheld == ("cef runs outside its window",)
    assert found.solution.plan is None
    assert not found.solution.feasible
    assert not found.solution.proven_optimal
    assert found.steps == ()


def test_the_table_is_asked_only_where_it_is_wanted_and_what_is_given_stays() -> None:
    asked: list[dict[str, str]] = []

    def table(names: dict[str, str]) -> tuple[KeepApart, ...]:
        asked.append(dict(names))
        return (
            KeepApart(("cef", "lr"), "lumen", "crystals"),
            KeepApart(("lr", "rbc"), why="clots"),
        )

    plan_lines(REQUEST, keep_apart_of=table)
    assert asked == []
    found = plan_lines(changed("use_catalogue", True), keep_apart_of=table)
    assert asked[0]["lr"] == "lactated Ringer's 100 mL/h"
    assert found.problem.keep_apart == (
        KeepApart(("lr", "cef")),
        KeepApart(("lr", "rbc"), why="clots"),
    )


def test_where_the_table_bars_a_pair_for_the_patient_that_counts_whatever_was_given() -> None:
    barred = KeepApart(("cef", "lr"), "patient", "crystals in a newborn")
    found = plan_lines(changed("use_catalogue", True), keep_apart_of=lambda names: (barred,))
    assert found.solution.barred == ("cef", "lr")
    given = changed("keep_apart.0.scope", "patient") | {"use_catalogue": True}
    apart = KeepApart(("cef", "lr"), "lumen", "crystals")
    found = plan_lines(given, keep_apart_of=lambda names: (apart,))
    assert found.problem.keep_apart == (KeepApart(("lr", "cef"), "patient"),)
