"""What a review finds with another fluid that it did not find before, and what goes. Pure."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from app.cautions.assess import Found
from app.cautions.rule import LEVELS, NotAssessed
from app.review.assess import Review

CRITICAL: Final = LEVELS[0]
# A finding is the same one when it is of the same rule about the same orders.
Key = tuple[str, frozenset[str]]


@dataclass(frozen=True, slots=True)
class Change:
    """One finding that is new, or louder or quieter than before. was: its level then, or empty."""

    found: Found
    was: str = ""

    @property
    def level(self) -> str:
        """How loud it is now; of one that goes, how loud it was."""
        return self.found.finding.level


@dataclass(frozen=True, slots=True)
class Changes:
    """Two reviews of one patient held against each other.

    new: findings that were not there, or were quieter. gone: those that are there no more. milder:
    those that are quieter now. not_assessed: the checks that cannot run as things will be. Each
    list has the worst first.
    """

    new: tuple[Change, ...] = ()
    gone: tuple[Change, ...] = ()
    milder: tuple[Change, ...] = ()
    not_assessed: tuple[NotAssessed, ...] = ()

    @property
    def brings_critical(self) -> bool:
        """Whether something critical is new."""
        return any(change.level == CRITICAL for change in self.new)

    @property
    def needs(self) -> tuple[str, ...]:
        """What was not known by the checks that cannot run, each once."""
        return tuple(dict.fromkeys(need for one in self.not_assessed for need in one.needs))


def changes(before: Review, after: Review) -> Changes:
    """What is new, gone and quieter in the second of two reviews of one patient."""
    was, will = _worst(before), _worst(after)
    new, milder = [], []
    for key, found in will.items():
        old = was.get(key)
        if old is None or _rank(found) < _rank(old):
            new.append(Change(found, old.finding.level if old else ""))
        elif _rank(found) > _rank(old):
            milder.append(Change(found, old.finding.level))
    gone = [Change(found) for key, found in was.items() if key not in will]
    return Changes(
        _sorted(new), _sorted(gone), _sorted(milder), tuple(_not_assessed(after).values())
    )  # fmt: skip


def _worst(review: Review) -> Mapping[Key, Found]:
    """Each rule's worst finding of each set of orders, in the order of the review."""
    kept: dict[Key, Found] = {}
    for found in review.all_found:
        key = (found.rule.id, frozenset(found.finding.order_ids))
        if key not in kept or _rank(found) < _rank(kept[key]):
            kept[key] = found
    return kept


def _not_assessed(review: Review) -> Mapping[tuple[str, str | None], NotAssessed]:
    of_orders = (one for order in review.orders for one in order.not_assessed)
    every = (*review.patient_not_assessed, *of_orders)
    return {(one.rule_id, one.order_id): one for one in every}


def _rank(found: Found) -> int:
    return LEVELS.index(found.finding.level)


def _sorted(found: list[Change]) -> tuple[Change, ...]:
    return tuple(sorted(found, key=lambda change: _rank(change.found)))
