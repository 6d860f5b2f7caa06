"""On whose word infusions of a plan share a lumen, where it is from memory, without a source, or by
a signed note: what pharmacy confirms before the plan is followed. Pure.
"""

from collections.abc import Iterable, Iterator, Mapping
from itertools import combinations
from typing import Final

from app.catalogue.pairs.answer import PairBook
from app.catalogue.source import NO_SOURCE
from app.cautions.phrases import opening
from app.lines.model import Placement, Plan
from app.review.pairs.things import Thing
from app.review.pairs.told import Told, told_of
from app.review.pairs.words import line_of

FROM_MEMORY: Final = (
    "Confirm with pharmacy first, for it is from memory that they may share a lumen"
)
PRACTICE: Final = "Confirm with pharmacy first, for they share a lumen by practice without a source"


def leaning_of(
    plan: Plan, things: Mapping[str, Thing], book: PairBook, *, newborn: bool = False
) -> tuple[str, ...]:
    """Sentences on every two that a plan has on one lumen at the same time, where that rests on
    memory, on practice, or on a local note; each pair once. things: by the plan's ids.
    """
    told = tuple(_sharing(plan.placements, things, book, newborn=newborn))
    unseen = [each for each in told if each.answer.is_unseen]
    memory = [each for each in unseen if not _is_practice(each)]
    practice = [each for each in unseen if _is_practice(each)]
    listed = ((FROM_MEMORY, memory), (PRACTICE, practice))
    said = (f"{lead}: {'; '.join(map(_names, pairs))}." for lead, pairs in listed if pairs)
    return (*said, *_by_note(told))


def _sharing(
    placements: Iterable[Placement], things: Mapping[str, Thing], book: PairBook, *, newborn: bool
) -> Iterator[Told]:
    known = [placed for placed in placements if placed.infusion_id in things]
    seen = set[frozenset[str]]()
    for one, other in combinations(known, 2):
        first, second = things[one.infusion_id], things[other.infusion_id]
        pair = frozenset((first.id, second.id))
        if len(pair) == 1 or pair in seen or not _meet(one, other):
            continue
        seen.add(pair)
        told = told_of(book, first, second, newborn=newborn)
        if told is not None:
            yield told


def _meet(one: Placement, other: Placement) -> bool:
    return one.lumen_id == other.lumen_id and any(
        a.start_min < b.end_min and b.start_min < a.end_min for a in one.runs for b in other.runs
    )


def _is_practice(told: Told) -> bool:
    fact = told.answer.decisive.counts
    return fact is not None and fact.source.work == NO_SOURCE


def _names(told: Told) -> str:
    one, other = (meant.name for meant in told.meant)
    return f"{one} beside {other}"


def _by_note(told: Iterable[Told]) -> Iterator[str]:
    for each in told:
        for part in each.answer.parts:
            if part.note is not None:
                line = line_of(part).text
                yield f"{opening(_names(each))}: {line[:1].lower()}{line[1:]}"
