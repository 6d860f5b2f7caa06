"""Lumens over time: every bar where its minutes are, every name where it can be read."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.web.pictures.lumens import LETTER, PAD, WIDE, Drawing, Lane, Row, draw

HORIZON = 720
SEVEN = 7 * 60 + 5
NARROW = 380.0


def one(*lanes: Lane, flushes: tuple[int, ...] = (), width: float = WIDE) -> Drawing:
    return draw((Row("Left hand", lanes, flushes),), HORIZON, SEVEN, width)


def test_time_runs_right_from_now_to_the_horizon() -> None:
    drawn = one(Lane("saline", "fluid", ((0, 360), (360, 720))))
    first, second = drawn.rows[0].lanes[0].bars
    assert first.x == drawn.left == PAD
    assert second.x == pytest.approx((drawn.left + drawn.right) / 2)
    assert second.x + second.width == pytest.approx(drawn.right)


def test_hours_are_those_of_the_clock() -> None:
    drawn = one()
    words = [tick.words for tick in drawn.ticks]
    assert words[:2] == ["now", "08:00"]
    assert words[-1] == "19:00"
    assert drawn.ticks[1].x == pytest.approx(PAD + (WIDE - 2 * PAD) * 55 / HORIZON)


def test_an_hour_too_near_to_now_has_a_line_and_no_words() -> None:
    drawn = draw((), HORIZON, 7 * 60 + 50)
    assert [tick.words for tick in drawn.ticks][:3] == ["now", "", "09:00"]


def test_past_midnight_the_hours_begin_again() -> None:
    words = [tick.words for tick in draw((), HORIZON, 19 * 60).ticks]
    assert "00:00" in words
    assert words[-1] == "07:00"


def test_a_name_stands_in_a_plain_bar_that_holds_it() -> None:
    (lane,) = one(Lane("norepinephrine", "kept", ((0, 720),))).rows[0].lanes
    assert lane.inside
    assert lane.word == "norepinephrine"


def test_a_name_stands_beside_a_bar_that_is_short_or_patterned() -> None:
    for fill, end in (("fluid", 30), ("blood", 300), ("dose", 300)):
        (lane,) = one(Lane("some name", fill, ((0, end),))).rows[0].lanes  # type: ignore[arg-type]
        assert not lane.inside
        assert lane.word_x >= lane.bars[0].x + lane.bars[0].width


def test_a_name_at_the_end_of_the_shift_stands_before_its_bar() -> None:
    (lane,) = one(Lane("metronidazole", "dose", ((690, 720),))).rows[0].lanes
    assert lane.word_x < lane.bars[0].x


def test_a_name_that_fits_nowhere_is_cut_and_whole_in_its_title() -> None:
    runs = tuple((at, at + 20) for at in range(0, 720, 40))
    (lane,) = one(Lane("a long name of a drug", "dose", runs)).rows[0].lanes
    assert lane.word.endswith("…")
    assert lane.name == "a long name of a drug"


def test_a_pause_is_drawn_where_nothing_runs() -> None:
    (lane,) = one(Lane("saline", "fluid", ((100, 720),), ((0, 100),))).rows[0].lanes
    (gap,) = lane.gaps
    assert gap.x + gap.width == pytest.approx(lane.bars[0].x)
    assert gap.title == "saline: stands still"


def test_a_flush_is_a_notch_under_all_lanes_of_its_lumen() -> None:
    lanes = (Lane("a", "dose", ((0, 30),)), Lane("b", "dose", ((35, 60),)))
    row = one(*lanes, flushes=(30,)).rows[0]
    (notch,) = row.notches
    assert notch.top <= min(lane.bars[0].y for lane in row.lanes)
    assert notch.bottom >= max(lane.bars[0].y for lane in row.lanes)
    assert notch.points.count(",") == 3


def test_in_a_hand_names_stand_above_their_bars_and_hours_are_fewer() -> None:
    drawn = one(Lane("norepinephrine", "kept", ((0, 720),)), width=NARROW)
    (lane,) = drawn.rows[0].lanes
    assert not lane.inside
    assert lane.word_y < lane.bars[0].y
    assert len(drawn.ticks) < len(one().ticks)


def test_lumens_stand_under_each_other_and_an_empty_one_has_its_place() -> None:
    rows = (Row("a", ()), Row("b", (Lane("x", "fluid", ((0, 720),)),)))
    first, second = draw(rows, HORIZON, SEVEN).rows
    assert first.name_y < second.line_y < second.lanes[0].bars[0].y


def test_a_plan_of_no_length_is_refused() -> None:
    with pytest.raises(ValueError, match="length"):
        draw((), 0, SEVEN)


@given(
    start=st.integers(0, 719),
    length=st.integers(1, 720),
    name=st.text("abcdefghij ", min_size=1, max_size=30),
    fill=st.sampled_from(["fluid", "kept", "dose", "blood"]),
)
def test_nothing_leaves_the_picture(start: int, length: int, name: str, fill: str) -> None:
    end = min(HORIZON, start + length)
    (lane,) = one(Lane(name, fill, ((start, end),))).rows[0].lanes  # type: ignore[arg-type]
    assert lane.bars[0].x >= 0
    assert lane.bars[0].x + lane.bars[0].width <= WIDE
    assert lane.word_x >= 0
    assert lane.word_x + LETTER * len(lane.word) <= WIDE + PAD


def test_in_a_hand_no_flush_strikes_out_a_name() -> None:
    lanes = (Lane("a", "dose", ((0, 30),)), Lane("b", "dose", ((35, 60),)))
    row = one(*lanes, flushes=(30,), width=NARROW).rows[0]
    (notch,) = row.notches
    assert notch.top > max(lane.word_y for lane in row.lanes)
    assert notch.bottom >= max(lane.bars[0].y for lane in row.lanes)


def test_what_fills_the_shift_has_its_name_on_it() -> None:
    (lane,) = one(Lane("red cells", "blood", ((0, 720),))).rows[0].lanes
    assert lane.word == "red cells"
    assert lane.bars[0].x < lane.word_x < lane.bars[0].x + lane.bars[0].width
