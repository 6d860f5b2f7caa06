"""Places in a picture: hours go right, values go up, and nothing leaves the field."""

import pytest

from app.web.pictures.field import FOOT, HEIGHT, TOP, Field

FIELD = Field(left=40, right=340, hours=(-6, 24), values=(110, 130))


def test_the_corners_of_the_field() -> None:
    assert (FIELD.x(-6), FIELD.x(24)) == (40, 340)
    assert (FIELD.y(130), FIELD.y(110)) == (TOP, HEIGHT - FOOT)


def test_between_them_places_are_even() -> None:
    assert FIELD.x(0) == pytest.approx(40 + 300 * 6 / 30)
    assert FIELD.y(120) == pytest.approx((TOP + HEIGHT - FOOT) / 2)


def test_what_lies_outside_stands_at_the_edge() -> None:
    assert (FIELD.x(-30), FIELD.x(48)) == (40, 340)
    assert (FIELD.y(150), FIELD.y(90)) == (TOP, HEIGHT - FOOT)
