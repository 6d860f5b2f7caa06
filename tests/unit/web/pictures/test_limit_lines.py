"""Limits in a picture: as long as they hold, their words clear of each other and of the past."""

from app.web.pictures.field import LINE, Field
from app.web.pictures.limit_lines import Bound, limit_lines

FIELD = Field(left=40, right=340, hours=(-6, 24), values=(110, 130))


def test_no_limit_draws_nothing() -> None:
    assert limit_lines([], FIELD) == ()


def test_a_line_is_as_long_as_its_limit_holds() -> None:
    (line,) = limit_lines([Bound(126, -20, 9, "+10 in 24 h", "the limit")], FIELD)
    assert (line.x1, line.x2, line.y) == (40, FIELD.x(9), FIELD.y(126))


def test_words_of_limits_close_together_are_kept_apart() -> None:
    pair = [Bound(124, -6, 24, "+8 in 24 h", ""), Bound(124.5, -6, 24, "+10 in 24 h", "")]
    first, second = limit_lines(pair, FIELD)
    assert first.words == "+10 in 24 h"
    assert second.words_y - first.words_y >= LINE


def test_words_begin_with_a_line_that_goes_all_across_and_end_with_one_that_does_not() -> None:
    across, ahead = Bound(126, -6, 24, "+8", ""), Bound(128, 3, 24, "+10", "")
    late, early = limit_lines([across, ahead], FIELD)
    assert (early.words, early.at_end, late.words, late.at_end) == ("+8", False, "+10", True)
    assert FIELD.left < early.words_x < late.words_x < FIELD.right


def test_words_that_do_not_fit_are_cut_and_stand_whole_in_the_title() -> None:
    narrow = Field(left=0, right=80, hours=(0, 24), values=(110, 130))
    (line,) = limit_lines([Bound(126, 0, 24, "+10 in 24 h", "+10 in 24 h, counted")], narrow)
    assert line.words.endswith("…")
    assert line.title == "+10 in 24 h, counted"
