"""What may meet on one lumen, which lumens an infusion may have, when it may start."""

from dataclasses import replace

import pytest

from app.lines.meeting import barred, carriers, clashing, cliques, may_have, starts, window
from app.lines.model import KeepApart, Lumen
from tests.unit.lines.build import C1, P1, dose, problem, running


def pairs(found: frozenset[frozenset[str]]) -> set[str]:
    return {" ".join(sorted(pair)) for pair in found}


def test_kept_apart_and_exclusive_clash_and_what_is_named_does_not() -> None:
    blood = dose("blood", 60, exclusive=True, may_share_with_exclusive=frozenset({"saline"}))
    asked = problem((P1,), running("saline"), running("lr"), dose("cef", 30), blood, apart="lr cef")
    assert pairs(clashing(asked)) == {"cef lr", "blood lr", "blood cef"}


def test_what_is_carried_clashes_with_what_stops_its_carrier() -> None:
    asked = problem(
        (P1,), running("carrier", pauses=True), running("nor", beside="carrier"), dose("cef", 30),
        apart="carrier cef",
    )  # fmt: skip
    assert pairs(clashing(asked)) == {"carrier cef", "cef nor"}


def test_carriers_of_carriers_are_followed_and_a_circle_ends() -> None:
    one, two = running("one", beside="two"), running("two", beside="three")
    by_id = {each.id: each for each in (one, two, running("three", beside="one"))}
    assert list(carriers(one, by_id)) == ["two", "three"]


def test_a_pair_is_barred_only_when_both_are_given_and_for_the_patient() -> None:
    pair = KeepApart(("cef", "calcium"), "patient")
    asked = problem((P1,), dose("cef", 30), running("calcium"), keep_apart=(pair,))
    assert barred(asked) == pair
    assert barred(replace(asked, keep_apart=(replace(pair, scope="lumen"),))) is None
    assert barred(replace(asked, infusions=asked.infusions[:1])) is None


@pytest.mark.parametrize(
    ("needs_central", "role", "lumen", "may"),
    [
        (False, "", P1, True),
        (True, "", P1, False),
        (True, "", C1, True),
        (False, "", Lumen("n", "central", "nutrition"), False),
        (False, "nutrition", Lumen("n", "central", "nutrition"), True),
        (False, "vasoactive", Lumen("n", "central", "nutrition"), False),
        (False, "nutrition", P1, True),
    ],
)
def test_central_where_needed_and_roles_kept(
    needs_central: bool, role: str, lumen: Lumen, may: bool
) -> None:
    assert may_have(running("x", needs_central=needs_central, role=role), lumen) is may


@pytest.mark.parametrize(
    ("earliest", "latest", "minutes", "expected"),
    [
        (0, None, 700, [0, 5, 10, 15, 20]),
        (3, 40, 30, [5, 10]),
        (5, 35, 30, [5]),
        (6, 39, 30, [6]),
        (6, 36, 30, [6]),
        (6, 35, 30, []),
        (0, 20, 30, []),
        (690, 900, 30, [690]),
    ],
)
def test_starts_are_the_steps_at_which_the_dose_fits_or_where_there_is_none_its_earliest(
    earliest: int, latest: int | None, minutes: int, expected: list[int]
) -> None:
    one = dose("x", minutes, earliest, latest)
    assert list(starts(problem((P1,), one), one)) == expected


def test_a_window_ends_with_the_plan() -> None:
    assert window(problem((P1,)), dose("x", 30, 60, 900)) == (60, 720)


def test_cliques_hold_only_what_clashes_throughout_and_come_once() -> None:
    doses = [dose(name, 30) for name in "abcd"]
    apart = clashing(problem((P1,), *doses, apart="a b, a c, b c, c d"))
    found = [{one.id for one in group} for group in cliques(doses, apart)]
    assert found == [{"a", "b", "c"}, {"c", "d"}]
