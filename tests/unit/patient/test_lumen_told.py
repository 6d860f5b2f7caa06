"""What counts of everything people told of a lumen."""

from datetime import UTC, datetime, timedelta

from app.patient.access import Lumen
from app.patient.lumen_told import (
    LumenTold,
    State,
    failed_in,
    placed_in,
    standing,
    with_placed,
)

NOW = datetime(2031, 3, 4, 7, 0, tzinfo=UTC)


def told(*states: State) -> list[LumenTold]:
    return [LumenTold("left hand", state, NOW) for state in states]


def test_the_newest_counts() -> None:
    assert standing(told("works", "failed"))["left hand"].state == "failed"
    assert standing(told("failed", "works"))["left hand"].state == "works"


def test_as_it_was_takes_back_what_was_told_last() -> None:
    assert standing(told("works", "failed", "as it was"))["left hand"].state == "works"
    assert standing(told("failed", "as it was")) == {}
    assert standing(told("as it was")) == {}


def test_only_failed_lumens_are_out_of_use() -> None:
    stands = standing([*told("failed"), LumenTold("right hand", "works", NOW)])
    assert failed_in(stands) == {"left hand"}


def test_what_was_told_more_than_twelve_hours_ago_is_stale() -> None:
    (one,) = told("works")
    assert not one.is_stale(NOW + timedelta(hours=12))
    assert one.is_stale(NOW + timedelta(hours=12, minutes=1))


def test_size_and_site_stay_until_told_otherwise() -> None:
    placed = LumenTold("left foot", "placed", NOW, "", "22 G", "peripheral")
    stands = standing([placed, LumenTold("left foot", "failed", NOW)])
    assert (stands["left foot"].size, stands["left foot"].site) == ("22 G", "peripheral")
    larger = LumenTold("left foot", "works", NOW, "", "20 G")
    assert standing([placed, larger])["left foot"].size == "20 G"


def test_a_lumen_that_was_placed_joins_those_recorded_and_leaves_when_taken_back() -> None:
    recorded = (Lumen("left hand", "peripheral"),)
    placed = LumenTold("left foot", "placed", NOW, site="peripheral")
    stands = standing([placed, *told("works")])
    assert with_placed(recorded, stands) == (*recorded, Lumen("left foot", "peripheral"))
    assert with_placed((*recorded, Lumen("left foot", "central")), stands)[1].site == "central"
    assert placed_in(standing([placed, LumenTold("left foot", "as it was", NOW)])) == ()
