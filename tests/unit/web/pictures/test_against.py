"""Predicted against measured: equality runs corner to corner, and the bar is a field about it."""

from itertools import combinations

import pytest

from app.review.trials.fluids import KIND_NAMES
from app.web.pictures.against import KEY, SHAPES, Pair, key_mark, scatter

RIGHT = Pair("saline", 4.0, 4.0, "held", "right", "#a")
HIGH = Pair("balanced", 2.0, 5.0, "set", "too high", "#b")
FALL = Pair("mannitol", -3.0, -4.0, "told", "a fall", "#c")


def middle(corners: tuple[tuple[float, float], ...]) -> tuple[float, float]:
    across, down = zip(*corners, strict=True)
    return (min(across) + max(across)) / 2, (min(down) + max(down)) / 2


def test_the_field_is_a_square_with_one_scale() -> None:
    cloud = scatter([RIGHT, HIGH, FALL], 1.5)
    assert cloud.right - cloud.left == pytest.approx(cloud.bottom - cloud.top)
    assert [tick.words for tick in cloud.across] == [tick.words for tick in cloud.up]
    assert cloud.right <= cloud.width
    assert cloud.bottom < cloud.height


def test_what_was_right_lies_on_equality_and_too_high_above_it() -> None:
    cloud = scatter([RIGHT, HIGH], 1.5)
    at = {mark.title: middle(mark.corners) for mark in cloud.marks}
    for title, over in (("right", 0.0), ("too high", 1.0)):
        x, y = at[title]
        equal = cloud.bottom - (x - cloud.left)
        assert (equal - y > 5) is bool(over), title
    assert at["right"][1] == pytest.approx(cloud.bottom - (at["right"][0] - cloud.left))


def test_zero_is_always_in_the_field_and_drawn_where_it_is_no_edge() -> None:
    rises = scatter([RIGHT, HIGH], None)
    assert rises.across[0].words == "0"
    assert rises.zero is None
    both = scatter([RIGHT, FALL], None)
    assert both.zero is not None
    (zero,) = (tick.at for tick in both.across if tick.words == "0")
    assert both.zero[0] == zero


def test_the_corridor_is_as_wide_as_the_bar_and_stays_in_the_field() -> None:
    cloud = scatter([RIGHT, HIGH, FALL], 1.5)
    ticks = {float(tick.words.replace("\N{MINUS SIGN}", "-")): tick.at for tick in cloud.up}
    (low, high), unit = (min(ticks), max(ticks)), ticks[0] - ticks[2]
    foot = [y for x, y in cloud.corridor if x == pytest.approx(cloud.left)]
    assert max(foot) - min(foot) == pytest.approx(1.5 * unit / 2)
    assert all(cloud.left - 1e-6 <= x <= cloud.right + 1e-6 for x, _ in cloud.corridor)
    assert all(cloud.top - 1e-6 <= y <= cloud.bottom + 1e-6 for _, y in cloud.corridor)
    assert low < 0 < high


def test_without_a_bar_there_is_no_corridor() -> None:
    assert scatter([RIGHT], None).corridor == ()


def test_a_small_change_does_not_fill_the_picture_with_its_bar() -> None:
    tiny = Pair("saline", 0.1, 0.1, "held", "tiny", "#t")
    cloud = scatter([tiny], 1.5)
    first, last = (
        float(t.words.replace("\N{MINUS SIGN}", "-")) for t in (cloud.up[0], cloud.up[-1])
    )
    assert last - first >= 3
    still = Pair("saline", 0.0, 0.0, "held", "no change", "#n")
    assert scatter([still], None).zero is not None


def test_a_picture_of_nothing_is_refused() -> None:
    with pytest.raises(ValueError, match="a pair is needed"):
        scatter([], 1.5)


def test_a_mark_keeps_what_it_says_and_where_it_leads() -> None:
    (mark,) = scatter([FALL], 1.5).marks
    assert (mark.style, mark.title, mark.href) == ("told", "a fall", "#c")


def test_every_kind_of_fluid_has_a_shape_of_its_own() -> None:
    assert set(SHAPES) == set(KIND_NAMES)
    for one, two in combinations(SHAPES, 2):
        assert {(round(x, 2), round(y, 2)) for x, y in SHAPES[one]} != {
            (round(x, 2), round(y, 2)) for x, y in SHAPES[two]
        }


@pytest.mark.parametrize("kind", SHAPES)
def test_a_mark_fits_the_key(kind: str) -> None:
    assert all(0 < x < KEY and 0 < y < KEY for x, y in key_mark(kind))
