"""The smallest set that clashes, proven by solving again."""

import pytest

from app.lines import clash as module
from app.lines.clash import NO_CLASH, Clash, smallest_clash, with_clash
from app.lines.model import KeepApart, Problem
from app.lines.solve import Carrying, NotProven, solve
from tests.unit.lines.build import C1, P1, P2, dose, problem, running


def ids(asked: Problem) -> tuple[str, ...]:
    return tuple(asked.by_id())


def test_of_many_infusions_only_those_that_clash_are_named() -> None:
    asked = problem(
        (P1,), running("saline"), dose("paracetamol", 15), running("lr"), dose("cef", 30),
        dose("x", 30), apart="lr cef, x paracetamol",
    )  # fmt: skip
    assert smallest_clash(asked, ids(asked)) == Clash(("lr", "cef"), smallest=True, minimal=True)


def test_a_pair_is_found_though_a_larger_set_clashes_too() -> None:
    asked = problem(
        (P1,), dose("a", 300), dose("b", 300), dose("c", 300), running("lr"), dose("cef", 30),
        apart="a b, a c, b c, lr cef",
    )  # fmt: skip
    assert smallest_clash(asked, ids(asked)).infusions == ("lr", "cef")


def test_three_that_clash_only_all_together() -> None:
    asked = problem((P1,), dose("a", 300), dose("b", 300), dose("c", 300), apart="a b, a c, b c")
    assert smallest_clash(asked, ids(asked)).infusions == ("a", "b", "c")


def test_what_may_not_pause_for_so_long_clashes_with_what_stops_it() -> None:
    asked = problem(
        (P1,), running("lr", pauses=60), dose("a", 40), dose("b", 40), apart="lr a, lr b, a b"
    )
    assert smallest_clash(asked, ids(asked)).infusions == ("lr", "a", "b")


def test_nothing_clashes_where_the_lumens_carry_everything() -> None:
    asked = problem((P1, P2), running("a"), running("b"), apart="a b")
    assert smallest_clash(asked, ids(asked)) == NO_CLASH
    found = solve(asked)
    assert with_clash(asked, found) == found


def test_beyond_is_what_one_cannula_fewer_or_three_more_do_not_carry() -> None:
    def all_apart(count: int) -> Problem:
        names = "abcdef"[:count]
        pairs = ", ".join(f"{a} {b}" for a in names for b in names if a < b)
        return problem((P1,), *(running(name) for name in names), apart=pairs)

    for count, beyond in ((2, "ab"), (3, "abc"), (5, "abcde"), (6, "abcde")):
        asked = all_apart(count)
        found = with_clash(asked, solve(asked))
        assert (found.clash, found.beyond) == (("a", "b"), tuple(beyond))


def test_where_no_cannula_helps_what_none_helps_with_is_named() -> None:
    # a and b clash on the one cannula, and a cannula would help; nothing helps potassium.
    asked = problem(
        (P1,), running("a"), running("b"), running("potassium", needs_central=True), apart="a b"
    )
    found = with_clash(asked, solve(asked))
    assert found.plan is None
    assert found.clash == ("potassium",)


def test_a_pair_barred_for_the_patient_is_what_clashes() -> None:
    pair = KeepApart(("a", "b"), "patient")
    asked = problem((P1, C1), running("a"), running("b"), running("c"), keep_apart=(pair,))
    found = with_clash(asked, solve(asked))
    assert (found.clash, found.clash_proven) == (("a", "b"), True)


def test_when_the_smallest_is_not_found_one_is_that_loses_none_of_its_members(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(module, "LARGEST", 1)
    asked = problem(
        (P1,), running("saline"), dose("a", 300), dose("b", 300), dose("c", 300),
        apart="a b, a c, b c",
    )  # fmt: skip
    assert smallest_clash(asked, ids(asked)) == Clash(("a", "b", "c"), smallest=False, minimal=True)


def test_out_of_time_all_that_is_left_is_named_and_not_proven(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def never(self: Carrying, needed: frozenset[str], among: frozenset[str]) -> None:
        raise NotProven

    monkeypatch.setattr(Carrying, "with_all", never)
    asked = problem((P1,), running("a"), running("b"), running("c"), apart="a b")
    assert smallest_clash(asked, ids(asked)) == Clash(
        ("a", "b", "c"), smallest=False, minimal=False
    )
