"""A curve with its band: axes that are easy to read, and nothing drawn that was not given."""

import pytest

from app.web.pictures.curves import Curve, Result, Scale, draw, steps
from app.web.pictures.limit_lines import Bound

RISE = Curve("A", (0.0, 4.0, 8.0), (116.0, 119.0, 122.0), (116.0, 118.0, 120.0), (116, 121, 125))
FLAT = Curve("B", (0.0, 4.0, 8.0), (116.0, 116.0, 116.0), (116.0, 115.5, 115.5), (116, 116.5, 117))
TENTH = Scale(places=1, least_span=8)


def test_an_axis_has_round_steps_from_under_the_lowest_to_over_the_highest() -> None:
    assert steps(116.2, 125.7) == (116, 118, 120, 122, 124, 126)
    assert steps(7.27, 7.41) == (7.25, 7.3, 7.35, 7.4, 7.45)
    assert steps(-3, 12) == (-5, 0, 5, 10, 15)


def test_an_axis_of_no_length_is_refused() -> None:
    with pytest.raises(ValueError, match="spans nothing"):
        steps(4, 4)


def test_a_small_change_does_not_fill_the_picture() -> None:
    still = Curve("", (0.0, 8.0), (140.0, 140.1), (140.0, 140.0), (140.0, 140.2))
    up = draw([still], [], [], TENTH).up
    assert float(up[-1].words) - float(up[0].words) >= 8


def test_the_least_that_an_axis_spans_may_be_a_share_of_where_it_begins() -> None:
    scale = Scale(places=2, least_span=0.1, least_share=0.5)
    adult = Curve("", (0.0, 8.0), (2.4, 2.42), (2.4, 2.41), (2.4, 2.43))
    baby = Curve("", (0.0, 8.0), (0.15, 0.151), (0.15, 0.15), (0.15, 0.152))
    for curve, least in ((adult, 1.2), (baby, 0.1)):
        up = draw([curve], [], [], scale).up
        assert least <= float(up[-1].words) - float(up[0].words) < 3 * least


def test_points_are_written_as_a_picture_wants_them() -> None:
    (track,) = draw([RISE], [], [], TENTH).tracks
    assert len(track.line_points.split()) == 3
    assert len(track.band_points.split()) == 6
    first_x, first_y = map(float, track.line_points.split()[0].split(","))
    assert (first_x, first_y) == pytest.approx(track.line[0], abs=0.05)


def test_a_limit_that_steps_has_its_words_once() -> None:
    first = Bound(126, from_h=-16, to_h=4, words="", title="of the day before")
    after = Bound(130, from_h=4, to_h=28, words="+10 in 24 h", title="from now")
    plot = draw([RISE], [], [first, after], TENTH)
    said, silent = plot.bounds
    assert (said.words, said.at_end, silent.words) == ("+10 in 24 h", True, "")
    assert silent.x2 == said.x1
    assert said.words_x < plot.right


def test_one_fluid_ends_in_its_value_and_two_in_their_marks() -> None:
    alone = draw([Curve("", RISE.hours, RISE.mid, RISE.low, RISE.high)], [], [], TENTH)
    assert [track.end for track in alone.tracks] == ["122"]
    both = draw([RISE, FLAT], [], [], TENTH)
    assert [track.end for track in both.tracks] == ["A 122", "B 116"]


def test_fluids_that_end_alike_have_words_apart() -> None:
    twin = Curve("B", RISE.hours, RISE.mid, RISE.low, RISE.high)
    first, second = (track.end_y for track in draw([RISE, twin], [], [], TENTH).tracks)
    assert abs(first - second) >= 15


def test_results_from_before_stand_left_of_now() -> None:
    plot = draw([RISE], [Result(-2, 114, "earlier"), Result(0, 116, "newest")], [], TENTH)
    assert plot.dots[0].x < plot.now_x == plot.dots[1].x
    assert plot.dots[0].y > plot.dots[1].y


def test_a_result_from_long_before_is_left_out_and_moves_no_axis() -> None:
    plot = draw([RISE], [Result(-30, 90, "two days ago")], [], TENTH)
    assert plot.dots == ()
    assert plot.up == draw([RISE], [], [], TENTH).up


def test_a_limit_is_drawn_as_long_as_it_holds() -> None:
    bound = Bound(126, from_h=-20, to_h=4, words="+10 in 24 h", title="the day's limit")
    (line,) = draw([RISE], [], [bound], TENTH).bounds
    plot = draw([RISE], [], [bound], TENTH)
    assert line.x1 == plot.left
    assert line.x2 == pytest.approx((plot.left + plot.right) / 2)
    assert line.words == "+10 in 24 h"
    assert not line.at_end
    assert line.words_x > plot.left


def test_a_limit_that_is_over_is_not_drawn() -> None:
    over = Bound(126, from_h=-30, to_h=-6, words="over", title="")
    assert draw([RISE], [], [over], TENTH).bounds == ()


def test_long_words_of_a_limit_are_cut_and_whole_in_the_title() -> None:
    bound = Bound(126, 0, 24, words="a limit " * 20, title="whole")
    (line,) = draw([RISE], [], [bound], TENTH).bounds
    assert line.words.endswith("…")
    assert line.title == "whole"


def test_a_picture_without_a_curve_is_refused() -> None:
    with pytest.raises(ValueError, match="curve"):
        draw([], [], [], TENTH)


def test_a_curve_that_stops_has_its_word_where_it_stops() -> None:
    (track,) = draw([RISE], [], [], TENTH, ahead_h=16).tracks
    whole = draw([RISE], [], [], TENTH)
    assert track.end_x == pytest.approx(track.line[-1][0] + 6)
    assert track.end_x < whole.tracks[0].end_x
    assert whole.tracks[0].end_x == pytest.approx(whole.right + 6)


def test_a_start_that_is_assumed_and_a_turn_are_drawn_as_such() -> None:
    peak = Curve("", (0.0, 2.0, 8.0), (4.0, 7.6, 6.0), (4.0, 7, 5), (4, 8, 7), assumed=True)
    plot = draw([peak], [], [], TENTH)
    assert plot.tracks[0].assumed
    assert [turn.text for turn in plot.turns] == ["7.6 at 2 h"]
    assert draw([RISE], [], [], TENTH).turns == ()
