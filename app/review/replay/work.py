"""What one worker does: open the knowledge once, then count part after part."""

import gc
from collections.abc import Iterable, Iterator
from datetime import datetime
from functools import lru_cache
from typing import Final

import orjson

from app.review.replay.answer import Past
from app.review.replay.compare import Terms, tally_with
from app.review.replay.packed import unpack
from app.review.replay.tally import Tally
from app.review.replay.twice import Twice

# A past request as the database has it: its row, moment, setting, and the request as JSON.
Raw = tuple[int, datetime, str, str]
Part = tuple[Raw, ...]
# A review leaves many objects and hardly a cycle.
OBJECTS_BEFORE_COLLECTION: Final = 20_000


# What this worker process was started with.
_prepared: list[Twice] = []


@lru_cache(maxsize=2)
def opened(packed: bytes) -> Twice:
    """The two states of knowledge, opened once by each worker."""
    return Twice.of(*unpack(packed))


def prepare(packed: bytes) -> None:
    """Open the knowledge as the process starts, so that no part needs to carry it."""
    _prepared[:] = [opened(packed)]
    gc.set_threshold(OBJECTS_BEFORE_COLLECTION)
    gc.freeze()


def count_prepared(terms: Terms, part: Part) -> Tally:
    """One part counted with what the process was started with."""
    return tally_with(_prepared[0], map(past_of, part), terms)


def count_part(packed: bytes, terms: Terms, part: Part) -> Tally:
    """One part counted, where the worker is not ours to prepare."""
    return tally_with(opened(packed), map(past_of, part), terms)


def past_of(raw: Raw) -> Past:
    """A past request from its row."""
    number, at, setting, text = raw
    return Past(number, at, orjson.loads(text), setting)


def parts_of(raws: Iterable[Raw], size: int) -> Iterator[Part]:
    """Rows in parts of a size; the last may be smaller."""
    part: list[Raw] = []
    for raw in raws:
        part.append(raw)
        if len(part) == size:
            yield tuple(part)
            part = []
    if part:
        yield tuple(part)
