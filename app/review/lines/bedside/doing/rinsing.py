"""A lumen flushed twice where one flush would spoil what came before or what comes after. Pure.

What salt solution spoils is flushed with 5% dextrose before and after; blood, and whatever is not
known to bear dextrose, follows salt solution.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Final

from app.lines.flush import SALINE, Flush, FlushFluid
from app.lines.steps import IN_ORDER, Step
from app.review.lines.bedside.doing.flushing import flush_words

BEGINS: Final = ("start", "move", "resume")
FlushFor = Callable[[str, FlushFluid], Flush]


def rinsed(
    steps: Iterable[Step],
    needs: Mapping[str, FlushFluid],
    flush_for: FlushFor,
) -> tuple[Step, ...]:
    """The steps with a second flush wherever the last was not with what the next one needs.

    needs: by id, the fluid with which a lumen must be flushed before an infusion begins; what is
    not named bears either. flush_for: a flush of one lumen with one fluid.
    """
    every = sorted(steps, key=lambda step: (step.at_min, IN_ORDER.index(step.what)))
    for lumen in dict.fromkeys(step.lumen_id for step in every):
        here = [step for step in every if step.lumen_id == lumen]
        for before, fluid in _missing(here, needs):
            flush = flush_for(lumen, fluid)
            added = Step(before.at_min, lumen, "flush", flush_words(flush), flush=flush)
            place = every.index(before) + (1 if before.flush else 0)
            every.insert(place, added)
    return tuple(every)


def _missing(
    here: Iterable[Step], needs: Mapping[str, FlushFluid]
) -> Iterator[tuple[Step, FlushFluid]]:
    """The flush after which, or the start before which, another flush belongs, and with what."""
    last: Step | None = None
    for step in here:
        if step.flush is not None:
            last = step
        elif step.what in BEGINS:
            fluid = needs.get(step.infusion_id or "")
            stands = SALINE if last is None or last.flush is None else last.flush.fluid
            if fluid is not None and fluid != stands:
                yield last or step, fluid
            last = None
