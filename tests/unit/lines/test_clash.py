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


def test_a_pair_that_a_cannula_would_free_is_smaller_than_three_that_none_frees() -> None:
    three = (dose(name, 300, needs_central=True) for name in "xyz")
    asked = problem((C1,), running("a"), running("b"), *three, apart="a b, x y, x z, y z")
    found = with_clash(asked, solve(asked))
    assert (found.plan, found.clash, found.beyond) == (None, ("a", "b"), ("x", "y", "z"))


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
    asked = problem((P1,), dose("a", 300), dose("b", 300), dose("c", 300), apart="a b, a c, b c")
    assert smallest_clash(asked, ids(asked)) == Clash(
        ("a", "b", "c"), smallest=False, minimal=False
    )


@pytest.mark.parametrize(
    ("asked", "clash"),
    [
        (problem((P1,), running("a"), running("b", needs_central=True)), ("b",)),
        (problem((P1,), running("a"), dose("b", 60, 0, 50)), ("b",)),
        (problem((P1,), running("a"), running("b"), apart="a b"), ("a", "b")),
        (problem((P1, C1), running("a"), running("b"), apart="a b"), ()),
        (
            problem((P1, C1), running("a", needs_central=True), running("b", needs_central=True),
                    apart="a b"),
            ("a", "b"),
        ),
        (problem((P1,), running("a"), dose("b", 60), apart="a b"), ("a", "b")),
        (problem((P1,), running("a", pauses=True), dose("b", 60), apart="a b"), ()),
        (problem((P1,), running("a", pauses=60), dose("b", 60), apart="a b"), ()),
        (problem((P1,), running("a", pauses=59), dose("b", 60), apart="a b"), ("a", "b")),
        # At an end of the plan one of its two flushes falls away; elsewhere neither does.
        (problem((P1,), running("a", pauses=65), dose("b", 60), apart="a b", flush_min=5), ()),
        (
            problem((P1,), running("a", pauses=69), dose("b", 60, 5, 715), apart="a b",
                    flush_min=5),
            ("a", "b"),
        ),
        (problem((P1,), dose("a", 60, 0, 90), dose("b", 30, 0, 90), apart="a b"), ()),
        (problem((P1,), dose("a", 60, 0, 90), dose("b", 35, 0, 90), apart="a b"), ("a", "b")),
        (
            problem((P1,), dose("a", 60, 0, 90), dose("b", 30, 0, 90), apart="a b", flush_min=1),
            ("a", "b"),
        ),
    ],
)  # fmt: skip
def test_one_or_two_that_never_run_are_seen_without_a_search(
    asked: Problem, clash: tuple[str, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    assert smallest_clash(asked, ids(asked)).infusions == clash
    assert solve(asked).feasible is not bool(clash)
    monkeypatch.setattr(module, "_fewest", lambda *_: NO_CLASH)
    assert smallest_clash(asked, ids(asked)).infusions == clash


def test_of_two_that_clash_in_many_the_rest_falls_away_by_halves() -> None:
    names = [f"i{at}" for at in range(20)]
    asked = problem((P1,), *(running(name) for name in names), apart="i3 i15")
    everything = frozenset(names)
    asked_about: list[frozenset[str]] = []

    class Told:
        def with_all(self, needed: frozenset[str], among: frozenset[str]) -> frozenset[str] | None:
            asked_about.append(needed)
            return None if {"i3", "i15"} <= needed else everything

    assert module._thinned(Told(), names) == Clash(("i3", "i15"), smallest=False, minimal=True)
    assert len(asked_about) < len(names)
    assert smallest_clash(asked, names).infusions == ("i3", "i15")
