"""The plain data of a line plan."""

from app.lines.model import Lumen, new_lumens
from tests.unit.lines.build import P1, dose, problem, running


def test_new_cannulas_are_peripheral_and_numbered() -> None:
    assert new_lumens(problem((P1,)), 2) == (
        Lumen("new1", "peripheral"),
        Lumen("new2", "peripheral"),
    )


def test_a_name_that_a_lumen_has_already_is_passed_over() -> None:
    given = (Lumen("new1", "central"), Lumen("new3", "central"))
    assert [lumen.id for lumen in new_lumens(problem(given), 2)] == ["new2", "new4"]


def test_new_central_lumens_are_named_as_such() -> None:
    given = (Lumen("new central 1", "central"),)
    assert new_lumens(problem(given), 1, "central") == (Lumen("new central 2", "central"),)


def test_what_runs_all_the_time_is_told_from_what_runs_once() -> None:
    assert running("lr").continuous
    assert not dose("cef", 30).continuous
    assert not dose("blood", 30, kind="blood").continuous


def test_infusions_are_found_by_id() -> None:
    asked = problem((P1,), running("lr"), dose("cef", 30))
    assert asked.by_id()["cef"].duration_min == 30
