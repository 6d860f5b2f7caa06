"""How a change stands at a moment, and which one counts."""

from datetime import UTC, datetime, timedelta

from app.catalogue.changes.change import LimitValue
from app.catalogue.changes.history import Filed, History, history_of
from tests.changing import approved, change, decided, pharmacist, prescriber

NOW = datetime(2026, 2, 1, 12, 0, tzinfo=UTC)
HOUR = timedelta(hours=1)
MINUTE = timedelta(minutes=1)


def limit(value: float, name: str = "high") -> LimitValue:
    return LimitValue("k-hyper", name, value)


def test_a_draft_is_a_draft_until_somebody_decides() -> None:
    filed = Filed(change(limit(6), NOW))
    assert History((filed,)).state(filed, NOW + 99 * HOUR) == "draft"
    assert filed.counts_from is None


def test_it_waits_for_its_moment_then_counts_until_the_next_one_does() -> None:
    first = approved(limit(6), NOW, number=1, counts=NOW + HOUR)
    second = approved(limit(7), NOW + 2 * HOUR, number=2)
    history = History((first, second))
    states = [history.state(first, NOW + hours * HOUR) for hours in (0, 0.5, 1, 2, 3)]
    assert states == ["draft", "waiting", "in force", "in force", "superseded"]
    assert history.in_force(NOW + 3 * HOUR) == {"limit:k-hyper/high": second}


def test_nothing_counts_before_it_was_approved() -> None:
    late = Filed(
        change(limit(6), NOW, counts=NOW + HOUR),
        (decided(1, "approved", prescriber(NOW + 5 * HOUR)),),
    )
    assert late.counts_from == NOW + 5 * HOUR
    assert History((late,)).in_force(NOW + 4 * HOUR) == {}


def test_of_two_that_begin_at_once_the_one_approved_later_counts() -> None:
    at = NOW + 9 * HOUR
    first = change(limit(6), NOW, number=1, counts=at)
    second = change(limit(7), NOW + HOUR, number=2, counts=at)
    late = Filed(first, (decided(1, "approved", prescriber(NOW + 3 * HOUR)),))
    early = Filed(second, (decided(2, "approved", prescriber(NOW + 2 * HOUR)),))
    assert History((late, early)).in_force(at)["limit:k-hyper/high"] is late


def test_one_approved_later_for_an_earlier_moment_counts_only_until_the_other_begins() -> None:
    far = approved(limit(6), NOW, number=1, counts=NOW + 9 * HOUR)
    near = approved(limit(7), NOW + HOUR, number=2, counts=NOW + 3 * HOUR)
    history = History((far, near))
    subject = "limit:k-hyper/high"
    assert history.in_force(NOW + 5 * HOUR)[subject] is near
    assert history.in_force(NOW + 9 * HOUR)[subject] is far


def test_what_is_withdrawn_before_its_moment_never_counts() -> None:
    waiting = approved(limit(6), NOW, counts=NOW + 9 * HOUR)
    taken = Filed(
        waiting.change,
        (*waiting.decisions, decided(1, "withdrawn", pharmacist(NOW + 2 * HOUR))),
    )
    history = History((taken,))
    assert [history.state(taken, NOW + h * HOUR) for h in (1, 3, 10)] == [
        "waiting", "withdrawn", "withdrawn",
    ]  # fmt: skip
    assert history.in_force(NOW + 10 * HOUR) == {}
    assert history.moments() == ()


def test_as_of_a_moment_nothing_later_is_known() -> None:
    filed = approved(limit(6), NOW)
    history = History((filed,))
    assert history.as_of(NOW - MINUTE).filed == ()
    assert history.as_of(NOW).filed == (Filed(filed.change),)
    assert history.as_of(NOW + MINUTE) == history


def test_the_next_moment_is_the_next_beginning() -> None:
    near = approved(limit(6), NOW, number=1)
    far = approved(limit(7), NOW, number=2, counts=NOW + HOUR)
    history = History((near, far))
    assert history.next_moment(NOW) == NOW + MINUTE
    assert history.next_moment(NOW + MINUTE) == NOW + HOUR
    assert history.next_moment(NOW + HOUR) is None


def test_a_change_in_force_past_its_review_day_is_overdue_and_a_superseded_one_is_not() -> None:
    old = approved(limit(6), NOW, number=1)
    other = approved(limit(3, "low"), NOW, number=2)
    newer = approved(limit(7), NOW + HOUR, number=3)
    later = NOW + timedelta(days=400)
    history = History((old, other, newer))
    assert history.expired(NOW.date(), NOW + 2 * HOUR) == ()
    assert {one.change.number for one in history.expired(later.date(), later)} == {2, 3}


def test_rows_are_put_together_by_number() -> None:
    filed = approved(limit(6), NOW, number=7)
    assert history_of([filed.change], filed.decisions).get(7) == filed
    assert History((filed,)).get(8) is None
    assert History((filed,)).about("limit:k-hyper/low") == ()
