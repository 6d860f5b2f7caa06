"""Wrong tries cost time, by name and by address, in every process alike."""

from datetime import UTC, datetime, timedelta

import pytest
from sqlalchemy import Engine

from app.storage.database import connect, transaction
from app.storage.people.attempts import (
    BY_ADDRESS,
    BY_NAME,
    FORGOTTEN_AFTER,
    Counted,
    by_address,
    by_name,
    count_try,
    failures_of,
    forget,
    try_was_right,
)

NOW = datetime(2026, 11, 25, 8, 0, tzinfo=UTC)
INES, DESK = by_name("ines"), by_address("192.0.2.7")


def wait(engine: Engine, *counted: Counted, at: datetime = NOW) -> int:
    with transaction(engine) as session:
        return count_try(session, counted, at)


def fail(engine: Engine, times: int, *counted: Counted) -> datetime:
    """So many wrong tries, each as soon as it is looked at; returns the moment after the last."""
    now = NOW
    for _ in range(times):
        while left := wait(engine, *counted, at=now):
            now += timedelta(seconds=left)
    return now


def test_a_few_wrong_tries_cost_nothing_and_each_after_costs_twice_as_much() -> None:
    waits = [BY_NAME.wait_s(failures) for failures in range(9)]
    assert waits == [0, 0, 0, 0, 0, 2, 4, 8, 16]


def test_a_name_waits_five_minutes_at_most_however_often_it_was_tried() -> None:
    assert BY_NAME.wait_s(10**9) == BY_NAME.longest_wait_s == 300
    assert BY_ADDRESS.wait_s(10**9) == BY_ADDRESS.longest_wait_s == 900


def test_during_the_wait_no_try_is_looked_at_and_none_is_counted(engine: Engine) -> None:
    now = fail(engine, 5, INES)
    assert wait(engine, INES, at=now) == 2
    assert wait(engine, INES, at=now + timedelta(seconds=1.5)) == 1
    with transaction(engine) as session:
        assert failures_of(session, INES) == 5
    assert wait(engine, INES, at=now + timedelta(seconds=2)) == 0


def test_a_name_that_waits_keeps_no_other_name_waiting(engine: Engine) -> None:
    now = fail(engine, 6, INES)
    assert wait(engine, by_name("tomas"), DESK, at=now) == 0


def test_an_address_that_tries_many_names_waits_for_all_of_them(engine: Engine) -> None:
    for number in range(BY_ADDRESS.free + 1):
        assert wait(engine, by_name(f"name-{number}"), DESK) == 0
    assert wait(engine, by_name("another"), DESK) == BY_ADDRESS.first_wait_s
    assert wait(engine, by_name("another"), by_address("192.0.2.8")) == 0


def test_a_house_behind_one_address_is_not_held_up_by_a_few_slips_an_hour(engine: Engine) -> None:
    each = timedelta(seconds=BY_ADDRESS.one_forgotten_each_s)
    for number in range(200):
        now = NOW + number * each * 0.9
        assert wait(engine, by_name(f"name-{number}"), DESK, at=now) == 0
    with transaction(engine) as session:
        assert 15 <= failures_of(session, DESK) <= BY_ADDRESS.free


def test_whoever_guesses_on_gets_no_more_tries_than_are_forgotten(engine: Engine) -> None:
    now, tries, hours = NOW, 0, timedelta(hours=6)
    while now < NOW + hours:
        left = wait(engine, DESK, at=now)
        tries += not left
        now += timedelta(seconds=max(left, 1))
    most = BY_ADDRESS.free + hours.total_seconds() / BY_ADDRESS.one_forgotten_each_s
    assert BY_ADDRESS.free < tries <= most + 10


def test_a_names_tries_are_not_forgotten_by_the_minute(engine: Engine) -> None:
    now = fail(engine, 6, INES)
    wait(engine, INES, at=now + timedelta(hours=3))
    with transaction(engine) as session:
        assert failures_of(session, INES) == 7


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        ("2001:db8:1:2::1", "2001:db8:1:2:ffff::9", True),
        ("2001:db8:1:2::1", "2001:db8:1:3::1", False),
        ("::ffff:192.0.2.7", "192.0.2.7", True),
        ("fe80::1%eth0", "fe80::1%eth1", True),
        ("192.0.2.7", "192.0.2.8", False),
        ("no address", "none either", False),
    ],
)
def test_a_household_of_addresses_is_one(one: str, other: str, same: bool) -> None:
    assert (by_address(one) == by_address(other)) is same


def test_another_process_counts_the_same(engine: Engine) -> None:
    now = fail(engine, 5, INES)
    other = connect(engine.url.render_as_string(hide_password=False))
    assert wait(other, INES, at=now) == 2
    other.dispose()


def test_a_right_try_ends_the_names_count_and_gives_the_address_this_try_back_alone(
    engine: Engine,
) -> None:
    fail(engine, 3, INES, DESK)
    with transaction(engine) as session:
        try_was_right(session, INES, DESK)
        assert failures_of(session, INES) == 0
        assert failures_of(session, DESK) == 2
        try_was_right(session, by_name("nobody"), by_address("nowhere"))


def test_a_day_later_nothing_is_held_against_anyone_and_nothing_is_kept(engine: Engine) -> None:
    fail(engine, 4, INES)
    with transaction(engine) as session:
        assert count_try(session, [DESK], NOW + FORGOTTEN_AFTER) == 0
        assert failures_of(session, INES) == 0


def test_an_administrator_ends_a_wait(engine: Engine) -> None:
    now = fail(engine, 7, INES)
    assert wait(engine, INES, at=now) > 0
    with transaction(engine) as session:
        forget(session, INES)
    assert wait(engine, INES, at=now) == 0


def test_neither_names_nor_addresses_can_be_read_off_the_table(engine: Engine) -> None:
    wait(engine, INES, DESK)
    with engine.connect() as connection:
        rows = connection.exec_driver_sql("SELECT * FROM sign_in_attempt").all()
    assert len(rows) == 2
    assert not any("ines" in str(row) or "192.0.2.7" in str(row) for row in rows)


@pytest.mark.parametrize("first_seen_by", ["this process", "another process"])
def test_the_first_try_of_a_name_is_counted_once_whoever_met_it_first(
    engine: Engine, first_seen_by: str
) -> None:
    if first_seen_by == "another process":
        wait(engine, INES)
    wait(engine, INES)
    with transaction(engine) as session:
        assert failures_of(session, INES) == (2 if first_seen_by == "another process" else 1)
