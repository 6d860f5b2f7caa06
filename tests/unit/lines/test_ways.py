"""Ways out: every one solved again, cheapest first, none that helps nothing."""

from dataclasses import replace

import pytest

from app.lines import ways as module
from app.lines.check import faults
from app.lines.clash import with_clash
from app.lines.model import KeepApart, Problem, Solution
from app.lines.solve import solve
from app.lines.ways import PRICES, Replacement, Way, ways_out
from tests.unit.lines.build import C1, P1, P2, dose, problem, running, runs, where


def solution(asked: Problem) -> Solution:
    return with_clash(asked, solve(asked))


def ways(asked: Problem, *replacements: Replacement) -> tuple[Way, ...]:
    return ways_out(asked, solution(asked), replacements)


def kinds(found: tuple[Way, ...]) -> list[tuple[str, str | None]]:
    return [(way.kind, way.infusion_id) for way in found]


# Two antibiotics that clash, half an hour each, both due between 60 and 100.
TWO_DOSES = problem(
    (P1,), dose("vancomycin", 30, 60, 100), dose("cef", 30, 60, 100), apart="vancomycin cef"
)


def test_nothing_is_offered_where_the_lumens_suffice() -> None:
    assert ways(problem((P1,), running("lr"))) == ()


def test_a_dose_moves_by_no_more_than_it_must() -> None:
    # Two of 30 min in a window of 40: one begins or ends 20 min outside it.
    moves = [way for way in ways(TWO_DOSES) if way.kind == "move"]
    assert [way.infusion_id for way in moves] == ["vancomycin", "cef"]
    for way in moves:
        assert way.infusion_id is not None
        (moved,) = runs(way.plan, way.infusion_id)
        assert {-20: (40, 70), 20: (90, 120)}[way.minutes] == moved


def test_a_dose_moves_forward_when_that_is_nearer() -> None:
    asked = problem(
        (P1,), running("lr", pauses=True), dose("a", 60, 100, 160), dose("b", 60, 90, 150),
        apart="a b, lr a, lr b", step_min=10,
    )  # fmt: skip
    found = {way.infusion_id: way.minutes for way in ways(asked) if way.kind == "move"}
    assert found == {"a": 50, "b": -50}


def test_a_dose_moves_where_that_saves_one_of_two_cannulas() -> None:
    # Three at once, each apart from the others: one that moves shares with one that does not.
    asked = problem(
        (P1,), dose("a", 60, 0, 60), dose("b", 60, 0, 60), dose("c", 60, 0, 60),
        apart="a b, a c, b c",
    )  # fmt: skip
    moves = {way.infusion_id: way for way in ways(asked) if way.kind == "move"}
    assert {name: (way.minutes, way.cannulas) for name, way in moves.items()} == {
        "a": (60, 1), "b": (60, 1), "c": (60, 1),
    }  # fmt: skip


@pytest.mark.parametrize(
    ("kind", "late_min", "first"),
    [
        ("intermittent", 55, "move"), ("intermittent", 65, "cannula"),
        ("blood", 25, "move"), ("blood", 35, "cannula"),
    ],
)  # fmt: skip
def test_a_dose_an_hour_late_or_blood_half_an_hour_is_dearer_than_a_cannula(
    kind: str, late_min: int, first: str
) -> None:
    asked = problem(
        (P1,), dose("long", 120, 0, 120),
        dose("late", 30, 120 - late_min, 150 - late_min, kind=kind), apart="long late",
    )  # fmt: skip
    found = ways(asked)
    assert ("move", "late") in kinds(found)
    assert found[0].kind == first


def test_a_dose_between_the_steps_moves_to_a_step() -> None:
    asked = problem((P1,), dose("a", 60, 3, 63), dose("b", 60, 0, 60), apart="a b")
    moves = {way.infusion_id: way for way in ways(asked) if way.kind == "move"}
    assert {name: (way.minutes, runs(way.plan, name)) for name, way in moves.items()} == {
        "a": (57, [(60, 120)]), "b": (65, [(65, 125)]),
    }  # fmt: skip


def test_the_cheapest_way_comes_first_and_leaving_out_last() -> None:
    found = ways(TWO_DOSES)
    assert [way.price for way in found] == sorted(way.price for way in found)
    assert found[0].kind == "move"
    assert found[-1].kind == "leave out"
    assert ("cannula", None) in kinds(found)


def test_every_way_is_a_plan_that_passes_the_check() -> None:
    for way in ways(TWO_DOSES):
        asked = replace(
            TWO_DOSES,
            infusions=tuple(
                replace(one, earliest_start_min=0, latest_end_min=None)
                for one in TWO_DOSES.infusions
                if way.kind != "leave out" or one.id != way.infusion_id
            ),
        )
        assert not faults(asked, way.plan)


def test_what_may_not_pause_or_not_so_long_is_offered_with_the_minutes_it_would_take() -> None:
    for pauses in (False, 60):
        asked = problem((P1,), running("lr", pauses=pauses), dose("blood", 90), apart="lr blood")
        pause = next(way for way in ways(asked) if way.kind == "pause")
        assert (pause.infusion_id, pause.minutes) == ("lr", 90)


def test_a_vasoactive_drug_is_never_offered_a_pause() -> None:
    asked = problem((C1,), running("nor", role="vasoactive"), dose("cef", 30), apart="nor cef")
    assert "pause" not in [way.kind for way in ways(asked)]


def test_a_given_replacement_is_solved_with_its_own_pairs() -> None:
    asked = problem((P1,), running("lr"), dose("blood", 90), running("x"), apart="lr blood")
    good = Replacement("lr", "0.9% sodium chloride")
    bad = Replacement("lr", "a glucose fluid", (KeepApart(("lr", "x")),))
    found = ways(asked, bad, good)
    assert [way.replacement for way in found if way.kind == "replace"] == [good]


def test_a_replacement_may_run_beside_what_shares_with_nothing_else() -> None:
    asked = problem((P1,), running("lr"), dose("blood", 90, exclusive=True))
    other = Replacement("lr", "a glucose fluid")
    saline = Replacement("lr", "saline", beside_exclusive=frozenset({"blood"}))
    found = ways(asked, other, saline)
    assert [way.replacement for way in found if way.kind == "replace"] == [saline]


def test_a_replacement_does_not_inherit_what_the_replaced_might_share() -> None:
    blood = dose("blood", 90, exclusive=True, may_share_with_exclusive=frozenset({"saline"}))
    asked = problem((P1,), running("saline"), blood, running("x"), apart="saline x")
    assert "replace" not in [way.kind for way in ways(asked, Replacement("saline", "other"))]


def test_a_replacement_of_what_does_not_clash_is_not_offered() -> None:
    asked = problem((P1,), running("lr"), dose("blood", 90), running("x"), apart="lr blood")
    assert "replace" not in [way.kind for way in ways(asked, Replacement("x", "y"))]


def test_a_barred_pair_is_freed_by_no_cannula_pause_or_move() -> None:
    pair = KeepApart(("cef", "calcium"), "patient")
    asked = problem((P1,), dose("cef", 30, 0, 60), running("calcium"), keep_apart=(pair,))
    other = Replacement("cef", "cefotaxime")
    assert kinds(ways(asked, other)) == [
        ("replace", "cef"), ("leave out", "cef"), ("leave out", "calcium"),
    ]  # fmt: skip


def test_where_central_is_needed_and_there_is_none_it_is_asked_for() -> None:
    asked = problem((P1,), running("potassium", needs_central=True), running("x"))
    found = ways(asked)
    assert kinds(found) == [("central line", None), ("leave out", "potassium")]
    assert found[0].plan.extra_cannulas == 0


def test_two_that_need_central_and_clash_ask_for_two_lumens_of_it() -> None:
    asked = problem(
        (P1,), running("potassium", needs_central=True), running("nor", needs_central=True),
        apart="potassium nor",
    )  # fmt: skip
    (found,) = ways(asked)
    assert (found.kind, found.central_lumens) == ("central line", 2)
    assert set(where(found.plan).values()) == {"new central 1", "new central 2"}


def test_a_change_that_spares_one_of_two_cannulas_says_that_one_is_still_needed() -> None:
    asked = problem((P1,), running("a"), running("b"), running("c"), apart="a b, a c, b c")
    found = ways(asked)
    assert found[0].kind == "cannula"
    assert found[0].cannulas == 2
    left_out = [way for way in found if way.kind == "leave out"]
    assert left_out
    assert all(way.cannulas == 1 for way in left_out)
    assert all(way.price == PRICES["leave out"] + PRICES["cannula"] for way in left_out)


def test_what_carries_another_is_not_left_out_alone() -> None:
    asked = problem(
        (P1,), running("carrier"), running("nor", beside="carrier"), dose("cef", 30),
        apart="carrier cef",
    )  # fmt: skip
    assert ("leave out", "carrier") not in kinds(ways(asked))


def test_whatever_saves_a_cannula_is_offered_though_it_is_not_in_the_smallest_clash() -> None:
    asked = problem(
        (P1,), running("lr"), running("x"), dose("a", 60, 0, 60), dose("b", 60, 0, 60),
        apart="lr x, lr a, lr b, x a, x b, a b",
    )  # fmt: skip
    assert solution(asked).clash == ("lr", "x")
    moves = {way.infusion_id: way for way in ways(asked) if way.kind == "move"}
    assert {name: (way.minutes, way.cannulas) for name, way in moves.items()} == {
        "a": (60, 2), "b": (60, 2),
    }  # fmt: skip


def test_a_single_lumen_and_one_dose_too_many_for_the_day() -> None:
    asked = problem((P1,), dose("a", 400), dose("b", 400), apart="a b")
    assert "move" not in [way.kind for way in ways(asked)]
    assert kinds(ways(replace(asked, lumens=(P1, P2)))) == []


def test_of_a_clash_too_large_to_be_freed_by_one_only_cannulas_are_told(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(module, "CHANGED", 1)
    assert kinds(ways(TWO_DOSES)) == [("cannula", None)]


@pytest.mark.parametrize("name", ["QUESTIONS", "LIMIT"])
def test_out_of_time_only_what_is_known_already_is_offered(
    name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(module, name, 0)
    assert kinds(ways(TWO_DOSES)) == [("cannula", None)]
