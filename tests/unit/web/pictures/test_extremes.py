"""The highest or lowest of a curve is found where it is no end, and its words cover no others."""

from app.web.pictures.extremes import Words, extreme_of, placed
from app.web.pictures.field import Field

HOURS = (0.0, 1.0, 2.0, 4.0)
FIELD = Field(40.0, 300.0, (0.0, 4.0), (4.0, 8.0))


def test_a_peak_in_the_middle_is_told_with_its_hour() -> None:
    found = extreme_of(HOURS, (4.0, 6.0, 7.6, 6.9), 2.5)
    assert found is not None
    assert (found.hours, found.value, found.word) == (2, 7.6, "highest")


def test_a_dip_is_told_as_the_lowest() -> None:
    found = extreme_of(HOURS, (6.0, 3.0, 5.0, 6.0), 2.5)
    assert found is not None
    assert (found.hours, found.word) == (1, "lowest")


def test_a_curve_that_only_rises_has_none() -> None:
    assert extreme_of(HOURS, (4.0, 5.0, 6.0, 7.0), 2.5) is None


def test_a_ripple_is_none() -> None:
    assert extreme_of(HOURS, (4.0, 4.1, 4.0, 4.0), 2.5) is None


def test_words_stand_above_a_peak_inside_the_field_and_clear_of_others() -> None:
    peak = extreme_of(HOURS, (4.0, 7.6, 6.0, 6.9), 2.5)
    assert peak is not None
    words = placed(peak, "7.6 at 1 h", FIELD, ())
    assert words is not None
    assert words.y < FIELD.y(7.6)
    assert placed(peak, "7.6 at 1 h", FIELD, (Words(words.x + 20, words.y + 5, "limit"),)) is None
    assert placed(peak, "7.6 at 1 h", FIELD, (Words(words.x, words.y + 40, "limit"),)) == words
