"""Labels are moved as little as possible, and never over each other."""

import pytest

from app.web.pictures.spread import spread


def test_labels_with_room_stay_where_they_are() -> None:
    assert spread([10, 50, 90], 17, 0, 100) == (10, 50, 90)


def test_two_labels_too_close_move_apart_by_the_same_amount() -> None:
    assert spread([50, 52], 17, 0, 100) == (42.5, 59.5)


def test_labels_at_the_edge_are_pushed_in() -> None:
    assert spread([1, 2], 17, 10, 100) == (10, 27)
    assert spread([99, 100], 17, 0, 90) == (73, 90)


def test_a_crowd_keeps_its_order() -> None:
    moved = spread([30, 30, 30, 31], 10, 0, 100)
    assert moved == tuple(sorted(moved))


def test_labels_that_cannot_fit_are_refused() -> None:
    with pytest.raises(ValueError, match="do not fit"):
        spread([1, 2, 3], 50, 0, 60)
