"""What a rule's own worked examples would say under a change: the first thing a reader asks."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Final

from app.catalogue.changes.change import Change, FluidEntry
from app.cautions.example import Example
from app.cautions.rule import LEVELS
from app.review.changes.applied import knowledge_with
from app.review.knowledge import Knowledge
from app.review.workflow import review_request

CRITICAL: Final = "critical"


@dataclass(frozen=True, slots=True)
class Otherwise:
    """One example that would come out another way: "warning" before, "nothing" after."""

    example: Example
    before: str
    after: str


@dataclass(frozen=True, slots=True)
class Tried:
    """How many examples were run, and those that would come out otherwise."""

    count: int
    otherwise: tuple[Otherwise, ...]

    @property
    def critical_lost(self) -> int:
        """Those said at critical that would fall silent or be said more quietly."""
        return sum(one.before == CRITICAL for one in self.otherwise)


def tried(rule_id: str, examples: Iterable[Example], before: Knowledge, after: Knowledge) -> Tried:
    """Every example of a rule run with what is in force and with what is proposed."""
    own = [example for example in examples if example.rule == rule_id]
    told = [
        Otherwise(example, outcome(example, before), outcome(example, after)) for example in own
    ]
    return Tried(len(own), tuple(one for one in told if one.before != one.after))


def tried_on(change: Change, examples: Iterable[Example], before: Knowledge) -> Tried:
    """Every example of the rule whose limit, or running, is changed; none for a fluid's entry."""
    if isinstance(change.content, FluidEntry):
        return Tried(0, ())
    return tried(change.content.rule_id, examples, before, knowledge_with(before, change))


def outcome(example: Example, knowledge: Knowledge) -> str:
    """What the example's rule says: its loudest level, "nothing", or "not assessed"."""
    alone = replace(knowledge, ruleset=knowledge.ruleset.only([example.rule]))
    reviewed = review_request(example.request, alone)
    levels = [one.finding.level for one in reviewed.all_found if one.rule.id == example.rule]
    if levels:
        return min(levels, key=LEVELS.index)
    lacks = [*reviewed.patient_not_assessed, *(n for o in reviewed.orders for n in o.not_assessed)]
    return "not assessed" if any(n.rule_id == example.rule for n in lacks) else "nothing"
