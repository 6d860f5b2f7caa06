"""Chance with a story."""

from datetime import UTC, datetime, timedelta
from random import Random

from app.storage.past.draw import Draw
from app.storage.past.stories import read_stories

AT = datetime(2031, 3, 4, 7, 5, tzinfo=UTC)
STORIES = read_stories()


def draw() -> Draw:
    return Draw(Random("a"), STORIES, STORIES.stories[0], AT, 70)


def test_numbers_lie_between_and_are_rounded_as_written() -> None:
    one = draw()
    whole = [one.between((2, 9)) for _ in range(50)]
    assert all(2 <= number <= 9 and number == int(number) for number in whole)
    assert all(round(one.between((2, 9), 1) * 10) % 1 == 0 for _ in range(50))


def test_some_are_each_once_and_at_most_so_many() -> None:
    one = draw()
    sizes = set()
    for _ in range(60):
        some = one.some(("a", "b", "c"), 2)
        assert len(set(some)) == len(some)
        sizes.add(len(some))
    assert sizes == {0, 1, 2}


def test_what_has_a_larger_share_comes_more_often() -> None:
    one = draw()
    picked = [one.by_share([{"share": 9, "n": 1}, {"share": 1, "n": 2}])["n"] for _ in range(300)]
    assert picked.count(1) > 200
    assert 2 in picked


def test_a_share_of_none_never_happens_and_of_one_always() -> None:
    one = draw()
    assert not any(one.happens(0) for _ in range(20))
    assert all(one.happens(1) for _ in range(20))


def test_a_moment_before_is_before() -> None:
    then = datetime.fromisoformat(draw().before((1, 2)))
    assert timedelta(hours=1) <= AT - then <= timedelta(hours=2)
    assert draw().one_of(("only",)) == "only"
