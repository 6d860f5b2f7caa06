"""A flush between two that clash, even where a bag runs on beside both: a slow one clears no lumen
in the minutes between them. Pure.
"""

from collections.abc import Iterable, Iterator
from typing import Final

from app.lines.flush import SALINE
from app.lines.meeting import Pair
from app.lines.steps import IN_ORDER, Step
from app.review.lines.bedside.doing.flushing import flush_words
from app.review.lines.bedside.doing.rinsing import BEGINS, FlushFor

ENDS: Final = ("end", "pause")


def flushed_between(
    steps: Iterable[Step], apart: frozenset[Pair], flush_for: FlushFor
) -> tuple[Step, ...]:
    """The steps with a flush after whatever ended, where what begins next there clashes with it
    and no flush lies between. apart: every two that clash; flush_for: a flush of one lumen.
    """
    every = sorted(steps, key=lambda step: (step.at_min, IN_ORDER.index(step.what)))
    for lumen in dict.fromkeys(step.lumen_id for step in every):
        here = [step for step in every if step.lumen_id == lumen]
        for ended in _unflushed(here, apart):
            flush = flush_for(lumen, SALINE)
            added = Step(ended.at_min, lumen, "flush", flush_words(flush), flush=flush)
            every.insert(every.index(ended) + 1, added)
    return tuple(every)


def _unflushed(here: Iterable[Step], apart: frozenset[Pair]) -> Iterator[Step]:
    """What ended last before something that clashes with what ended."""
    ended: list[Step] = []
    for step in here:
        if step.flush is not None:
            ended = []
        elif step.what in ENDS:
            ended.append(step)
        elif step.what in BEGINS and any(_clash(one, step, apart) for one in ended):
            yield ended[-1]
            ended = []


def _clash(one: Step, other: Step, apart: frozenset[Pair]) -> bool:
    return frozenset((one.infusion_id or "", other.infusion_id or "")) in apart
