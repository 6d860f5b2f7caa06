"""What came out of a run, in short."""

from app.review.replay.count import Count
from app.review.replay.numbers import critical_lost, kind_of, numbers_of, worst_first
from app.review.replay.tally import Tally

HERE = ("", "ICU", "day")
APPEARS = ("k-hyper", "ICU", "", "critical")
VANISHES = ("ord-sodium-total", "ICU", "info", "")
RISES = ("na-rate", "ICU", "warning", "critical")
FALLS = ("hf-volume", "ICU", "warning", "info")


def test_each_change_is_of_one_kind() -> None:
    kinds = [kind_of(change) for change in (APPEARS, VANISHES, RISES, FALLS)]
    assert kinds == ["appear", "vanish", "level", "level"]


def test_the_numbers_say_how_much_is_said_before_and_after() -> None:
    before = Count(3, 1, 2, {HERE: 10}, {(*HERE, "r", "warning"): 2})
    after = Count(3, 1, 4, {HERE: 10}, {(*HERE, "r", "warning"): 2, (*HERE, "q", "critical"): 1})
    numbers = numbers_of(Tally(before, after, {APPEARS: 3, VANISHES: 2, RISES: 1}, (), 5), cap=2.5)
    assert numbers == {
        "requests": 3, "unread": 1, "orders": 10, "burden_before": 20.0, "burden_after": 30.0,
        "critical_before": 0.0, "critical_after": 10.0, "not_assessed_before": 2,
        "not_assessed_after": 4, "newly_unread": 5, "cap": 2.5, "appear": 3, "vanish": 2,
        "level": 1, "critical_lost": 0,
    }  # fmt: skip


def test_what_touches_a_critical_row_is_read_first() -> None:
    counted = [(VANISHES, 900), (FALLS, 40), (APPEARS, 1), (RISES, 2)]
    assert [change for change, _ in worst_first(counted)] == [RISES, APPEARS, FALLS, VANISHES]


def test_a_critical_row_that_vanishes_or_is_said_more_quietly_is_lost() -> None:
    gone, lower = ("k-hyper", "ICU", "critical", ""), ("k-hyper", "ED", "critical", "warning")
    other = {APPEARS: 5, VANISHES: 7, RISES: 9, FALLS: 11}
    assert critical_lost(Tally(changes={gone: 2, lower: 1, **other})) == 3
