"""A picture a quantity, a mark a row, each leading to the row of the tables."""

from dataclasses import replace

from app.review.trials.shipped import shipped
from app.web.proof.trial_pictures import (
    STYLES,
    anchor_of,
    change_words,
    key_views,
    picture_views,
    style_of,
)
from tests.unit.review.trials.test_errors import POINT

HELD = replace(POINT, row="b:NS@60", arm="b:NS", held_out=True, predicted=4.0)
TOLD = replace(HELD, row="c:NS@60", seen=False, measured=-6.0)


def test_every_row_has_a_mark_and_every_mark_its_own_row() -> None:
    pictures = list(picture_views(shipped().points))
    hrefs = [mark.href for picture in pictures for mark in picture.cloud.marks]
    assert len(hrefs) == len(set(hrefs)) == len(shipped().points)
    assert set(hrefs) == {f"#{anchor_of(point)}" for point in shipped().points}


def test_a_mark_says_what_its_row_says() -> None:
    (picture,) = picture_views([HELD])
    assert picture.cloud.marks[0].title == ("a: saline, 60 min; measured +2, predicted +4 mmol/L")
    assert picture.cloud.marks[0].href == "#row-b-ns-60-sodium-mmol-l"


def test_the_picture_is_told_in_a_sentence() -> None:
    (picture,) = picture_views([POINT, HELD, TOLD])
    assert picture.spoken == (
        "Sodium: change predicted against change measured, measured −6 to +2 mmol/L; "
        "1 of 3 rows within the bar of 1.5 mmol/L"
    )
    assert picture.spoken.endswith(picture.near)
    assert picture.bar == "1.5 mmol/L"
    (osmolality,) = picture_views([replace(POINT, quantity="osmolality_mosm_kg")])
    assert osmolality.bar == ""
    assert osmolality.near == "1 row, no bar set"


def test_held_out_set_and_remembered_are_drawn_each_their_way() -> None:
    assert [style_of(point) for point in (POINT, HELD, TOLD)] == ["set", "held", "told"]
    (picture,) = picture_views([HELD, POINT, TOLD])
    assert [mark.style for mark in picture.cloud.marks] == list(STYLES)


def test_the_key_shows_the_kinds_that_were_given() -> None:
    mannitol = replace(POINT, kind="mannitol")
    assert [one.name for one in key_views([mannitol, POINT])] == [
        "0.9% sodium chloride",
        "mannitol",
    ]


def test_changes_carry_their_sign_and_no_change_none() -> None:
    assert [change_words(value, 1) for value in (1.24, -0.04, -1.28)] == ["+1.2", "0", "−1.3"]
