"""What the table of pairs keeps apart among infusions that are given by name."""

from collections.abc import Iterator, Mapping
from datetime import datetime
from itertools import combinations
from typing import Any

from app.catalogue.coinfusion import PairFacts, Substance
from app.cautions.shared.substances import substance_of
from app.intake.read import read_case
from app.lines.model import KeepApart
from app.patient.case import Case
from app.review.knowledge import Knowledge
from app.review.lines.planned import KeepApartOf

NO_DATA = "no data on the two in one lumen; apart until a named person has confirmed"


def from_table(known: Knowledge, *, now: datetime) -> KeepApartOf:
    """A function from names by id to every pair of them that must be kept apart, and why.

    Kept apart: what the table keeps apart, what may share a lumen only on a condition, and what it
    has no data on. Two of one substance may share a lumen.
    """

    def keep_apart_of(names: Mapping[str, str]) -> tuple[KeepApart, ...]:
        substances = {one: _substance(name, known, now) for one, name in names.items()}
        return tuple(_apart(substances, known.pairs))

    return keep_apart_of


def _apart(substances: Mapping[str, Substance | None], facts: PairFacts) -> Iterator[KeepApart]:
    for (one, first), (other, second) in combinations(substances.items(), 2):
        why = NO_DATA if first is None or second is None else _why(first, second, facts)
        if why is not None:
            yield KeepApart((one, other), "lumen", why)


def _why(one: Substance, other: Substance, facts: PairFacts) -> str | None:
    """Why two must not meet; None when they may."""
    fact = facts.between(one, other)
    if fact is None:
        return None if one.names & other.names else NO_DATA
    if fact.verdict == "may run together":
        return None
    if fact.verdict == "no data":
        return NO_DATA
    return "; ".join(part for part in (fact.mechanism, fact.condition) if part) or fact.verdict


def _substance(name: str, known: Knowledge, now: datetime) -> Substance | None:
    """What a name means to the table: a fluid of the catalogue, else a drug, blood or nutrition.

    None for a name that is not understood or may mean several things.
    """
    fluid = _read({"orders": [{"fluid": name}]}, known, now)
    if fluid.orders and fluid.orders[0].fluid is not None:
        return substance_of(fluid.orders[0])
    beside = _read({"co_infusions": [{"name": name}]}, known, now).co_infusions
    found = [substance_of(one) for one in beside]
    return found[0] if len(found) == 1 and found[0].names else None


def _read(request: Mapping[str, Any], known: Knowledge, now: datetime) -> Case:
    return read_case(request, catalogue=known.catalogue, vocabulary=known.vocabulary, now=now)
