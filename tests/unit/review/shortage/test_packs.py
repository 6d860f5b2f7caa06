"""Which bags an order is hung from, and how many a day."""

import pytest

from app.review.shortage.packs import Bags, bags_a_day, bags_for


@pytest.mark.parametrize(
    ("volume", "sizes", "bags"),
    [
        (1000, (250, 500, 1000), Bags(1000, 1)),
        (500, (250, 500, 1000), Bags(500, 1)),
        (150, (250, 500), Bags(250, 1)),
        (300, (50, 100), Bags(100, 3)),
        (1000, (500,), Bags(500, 2)),
        (1500, (500, 1000), Bags(1000, 2)),
        (1004, (500, 1000), Bags(1000, 1)),
        (2, (10, 20), Bags(10, 1)),
        (None, (250, 1000), Bags(1000, 1)),
    ],
)
def test_the_fewest_bags_are_hung_and_of_those_the_least_is_left_over(
    volume: float | None, sizes: tuple[int, ...], bags: Bags
) -> None:
    assert bags_for(volume, sizes) == bags


def test_a_fluid_without_sizes_has_no_bags() -> None:
    assert bags_for(1000, ()) is None


def test_what_runs_on_takes_a_part_of_a_bag_a_day_and_one_at_least() -> None:
    assert bags_a_day(1800, Bags(1000, 1), once=False) == pytest.approx(1.8)
    assert bags_a_day(240, Bags(1000, 1), once=False) == 1


def test_what_is_given_once_takes_whole_bags() -> None:
    assert bags_a_day(300, Bags(100, 3), once=True) == 3
    assert bags_a_day(500, Bags(500, 1), once=True) == 1


def test_a_rate_rounded_to_whole_figures_opens_no_second_bag() -> None:
    assert bags_a_day(1002, Bags(1000, 1), once=True) == 1
    assert bags_a_day(1100, Bags(1000, 1), once=True) == 2


def test_what_gives_nothing_takes_nothing() -> None:
    assert bags_a_day(0, Bags(1000, 1), once=False) == 0
