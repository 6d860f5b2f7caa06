"""What follows from a frozen object is worked out once, however many rules ask."""

from collections.abc import Callable
from functools import wraps
from typing import Final, TypeVar

Thing = TypeVar("Thing")
Made = TypeVar("Made")
# A bed asks for some tens; the last few beds are enough.
KEPT: Final = 500


def once_each(make: Callable[[Thing], Made]) -> Callable[[Thing], Made]:
    """make(thing), kept for the last things asked about; a thing is known by identity.

    For a pure function of one frozen object: hashing a whole case would cost more than most
    answers. What it raises is raised each time.
    """
    known: dict[int, tuple[Thing, Made]] = {}

    @wraps(make)
    def _kept(thing: Thing) -> Made:
        found = known.get(id(thing))
        # The thing is held, so that no other can have its identity meanwhile.
        if found is not None:
            return found[1]
        made = make(thing)
        if len(known) >= KEPT:
            known.clear()
        known[id(thing)] = thing, made
        return made

    return _kept
