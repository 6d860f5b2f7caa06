"""Pairs that really run here and of which nobody has told us, ranked by hours together. Pure."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import combinations
from typing import Final

from app.catalogue.pairs.answer import PairBook, PartAnswer
from app.catalogue.vehicles.vehicle import Vehicles
from app.cautions.shared.lines import SHARED
from app.cautions.shared.substances import Infusion, infusions_of, is_dose, way_between
from app.patient.case import Case
from app.patient.order import CoInfusion
from app.patient.sharing import Sharing
from app.review.pairs.hours import hours_together, spans_of
from app.review.pairs.things import Thing, things_of
from app.review.pairs.told import told_of

# Another line, or one after the other with a flush between: they do not meet.
DO_NOT_MEET: Final[tuple[Sharing, ...]] = ("apart", "in turn")


@dataclass(frozen=True, slots=True)
class Gap:
    """Two things that run together here with no data. one, other: their keys, in order of name.

    hours: together in the 24 h ahead over all patients; hours_on_one_lumen: of these where it is
    told that they share a lumen, or the patient has but one; beds: of the patients; lapsed: a
    local note was signed and no longer counts.
    """

    one: str
    other: str
    hours: float
    hours_on_one_lumen: float
    beds: tuple[str, ...]
    lapsed: bool = False


@dataclass(frozen=True, slots=True)
class _Meeting:
    """One patient's two infusions together."""

    bed: str
    hours: float
    on_one_lumen: bool


def gaps_of(
    cases: Iterable[tuple[str, Case]], book: PairBook, vehicles: Vehicles
) -> tuple[Gap, ...]:
    """The pairs with no data over a unit's patients (bed and case), most hours together first."""
    met: dict[tuple[str, str], list[_Meeting]] = {}
    lapsed: dict[tuple[str, str], bool] = {}
    for bed, case in cases:
        for meeting, gap in _of_case(bed, case, book, vehicles):
            first, second = sorted((gap.one.key, gap.other.key))
            met.setdefault((first, second), []).append(meeting)
            lapsed[first, second] = bool(gap.notes)
    gaps = (_gap(pair, meetings, lapsed[pair]) for pair, meetings in met.items())
    return tuple(sorted(gaps, key=lambda g: (-g.hours, -g.hours_on_one_lumen, g.one, g.other)))


def _of_case(
    bed: str, case: Case, book: PairBook, vehicles: Vehicles
) -> Iterator[tuple[_Meeting, PartAnswer]]:
    running = tuple(zip(infusions_of(case), things_of(case), strict=True))
    for (one, thing), (other, other_thing) in combinations(running, 2):
        way = way_between(case, one, other)
        gaps = _no_data(thing, other_thing, book)
        if way in DO_NOT_MEET or not gaps or _given_in_turn(one, other):
            continue
        spans = spans_of(one, case, vehicles), spans_of(other, case, vehicles)
        hours = hours_together(*spans)
        if hours > 0:
            for gap in gaps:
                yield _Meeting(bed, hours, way in SHARED), gap


def _no_data(one: Thing, other: Thing, book: PairBook) -> tuple[PartAnswer, ...]:
    """The parts without data, each once; things not understood have no name to be listed by."""
    told = told_of(book, one, other)
    if told is None:
        return ()
    named = (gap for gap in told.answer.gaps if gap.one.key and gap.other.key)
    return tuple({frozenset((gap.one.key, gap.other.key)): gap for gap in named}.values())


def _given_in_turn(one: Infusion, other: Infusion) -> bool:
    """Two doses are given one after the other unless it is written that they run together."""
    together = any(isinstance(e, CoInfusion) and e.arrangement == "together" for e in (one, other))
    return is_dose(one) and is_dose(other) and not together


def _gap(pair: tuple[str, str], meetings: list[_Meeting], lapsed: bool) -> Gap:
    return Gap(
        *pair,
        hours=sum(m.hours for m in meetings),
        hours_on_one_lumen=sum(m.hours for m in meetings if m.on_one_lumen),
        beds=tuple(dict.fromkeys(m.bed for m in meetings)),
        lapsed=lapsed,
    )
