"""An answer about a frozen object is kept for that object and no other."""

from dataclasses import dataclass

import pytest

from app.patient.known import NotKnown
from app.patient.once import KEPT, once_each


@dataclass(frozen=True)
class Bag:
    volume_ml: float


def test_one_thing_is_worked_out_once_and_an_equal_one_by_itself() -> None:
    asked: list[Bag] = []

    @once_each
    def litres(bag: Bag) -> float:
        asked.append(bag)
        return bag.volume_ml / 1000

    first, equal, other = Bag(500.0), Bag(500.0), Bag(1000.0)
    assert [litres(bag) for bag in (first, first, equal, other, first)] == [0.5, 0.5, 0.5, 1.0, 0.5]
    assert [id(bag) for bag in asked] == [id(first), id(equal), id(other)]


def test_things_that_come_and_go_are_never_taken_for_each_other() -> None:
    @once_each
    def volume(bag: Bag) -> float:
        return bag.volume_ml

    assert all(volume(Bag(float(n))) == n for n in range(5 * KEPT))


def test_what_is_not_known_is_said_each_time() -> None:
    @once_each
    def rate(_: Bag) -> float:
        raise NotKnown("rate_ml_h")

    bag = Bag(500.0)
    for _ in range(2):
        with pytest.raises(NotKnown):
            rate(bag)
