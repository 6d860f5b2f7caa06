"""Burden against a log made by hand: 20 orders, 9 findings, each rate worked out on paper."""

from app.review.burden.rates import by_day, by_rule, by_setting, by_shift, in_all, only_setting
from app.review.replay.count import Count

DAY, NIGHT = "day, 07:00 to 19:00", "night, 19:00 to 07:00"
LOG = Count(
    requests=14,
    orders={
        ("2031-03-01", "adult ward", DAY): 8,
        ("2031-03-01", "ICU", NIGHT): 2,
        ("2031-03-02", "adult ward", NIGHT): 6,
        ("2031-03-02", "ICU", DAY): 4,
    },
    found={
        ("2031-03-01", "adult ward", DAY, "k-hyper", "critical"): 1,
        ("2031-03-01", "adult ward", DAY, "k-hyper", "warning"): 1,
        ("2031-03-01", "ICU", NIGHT, "ord-sodium-total", "info"): 2,
        ("2031-03-02", "adult ward", NIGHT, "ord-sodium-total", "warning"): 3,
        ("2031-03-02", "ICU", DAY, "k-hyper", "critical"): 2,
    },
)


def test_in_all() -> None:
    whole = in_all(LOG)
    assert (whole.critical, whole.warning, whole.info, whole.orders) == (3, 4, 2, 20)
    assert whole.burden == 35  # 7 of 20
    assert whole.per_100("critical") == 15


def test_by_rule_each_is_held_against_all_orders_the_loudest_first() -> None:
    rates = by_rule(LOG)
    assert [(r.what, r.loud, r.burden) for r in rates] == [
        ("k-hyper", 4, 20.0), ("ord-sodium-total", 3, 15.0),
    ]  # fmt: skip


def test_by_place_each_is_held_against_its_own_orders() -> None:
    rates = {rate.what: (rate.loud, rate.orders, rate.burden) for rate in by_setting(LOG)}
    assert rates["adult ward"] == (5, 14, 100 * 5 / 14)
    assert rates["ICU"] == (2, 6, 100 * 2 / 6)


def test_by_stretch_of_the_day() -> None:
    rates = {rate.what: (rate.loud, rate.orders) for rate in by_shift(LOG)}
    assert rates == {DAY: (4, 12), NIGHT: (3, 8)}


def test_over_time_oldest_first() -> None:
    assert [(r.what, r.loud, r.orders) for r in by_day(LOG)] == [
        ("2031-03-01", 2, 10), ("2031-03-02", 5, 10),
    ]  # fmt: skip


def test_a_place_where_nothing_was_said_is_there_with_nought() -> None:
    quiet = Count(orders={("d", "theatre", DAY): 3})
    assert [(r.what, r.burden) for r in by_setting(quiet)] == [("theatre", 0.0)]


def test_one_place_alone() -> None:
    icu = only_setting(LOG, "ICU")
    assert [(r.what, r.loud) for r in by_rule(icu)] == [("k-hyper", 2), ("ord-sodium-total", 0)]
    assert icu.all_orders == 6


def test_nothing_counted_has_no_burden() -> None:
    assert in_all(Count()).burden is None
    assert by_rule(Count()) == ()
