"""How much is said: rows counted by day, place, stretch of the day, rule and level.

Counts of parts add up to the count of the whole, in any order and any grouping, so that parts can
be counted on as many processors or machines as there are.
"""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any, Final

from app.review.replay.answer import Answer, Past

# Day (empty where days are not told apart), setting, stretch of the day.
Where = tuple[str, str, str]
# The same with rule and level.
Cell = tuple[str, str, str, str, str]
LOUD: Final = ("critical", "warning")
PER: Final = 100.0
RULE_AT: Final = 3
LEVEL_AT: Final = 4


@dataclass(frozen=True, slots=True)
class Count:
    """Of some past requests: how many, their orders by place, and the rows found by place.

    unread: requests that could not be read; not_assessed: checks that could not run.
    """

    requests: int = 0
    unread: int = 0
    not_assessed: int = 0
    orders: Mapping[Where, int] = field(default_factory=dict)
    found: Mapping[Cell, int] = field(default_factory=dict)

    def __add__(self, other: "Count") -> "Count":
        """Both together."""
        return summed((self, other))

    @property
    def all_orders(self) -> int:
        """Every order counted."""
        return sum(self.orders.values())

    def rows(self, levels: Iterable[str] = LOUD) -> int:
        """How many rows at these levels."""
        wanted = frozenset(levels)
        return sum(n for cell, n in self.found.items() if cell[LEVEL_AT] in wanted)

    def burden(self, levels: Iterable[str] = LOUD) -> float | None:
        """Rows at these levels per 100 orders; None where there was no order."""
        return per_100(self.rows(levels), self.all_orders)

    def as_document(self) -> dict[str, Any]:
        """As JSON can carry it."""
        return {
            "requests": self.requests,
            "unread": self.unread,
            "not_assessed": self.not_assessed,
            "orders": [[*where, n] for where, n in sorted(self.orders.items())],
            "found": [[*cell, n] for cell, n in sorted(self.found.items())],
        }

    @staticmethod
    def from_document(document: Mapping[str, Any]) -> "Count":
        """From what as_document() gave."""
        return Count(
            document["requests"],
            document["unread"],
            document["not_assessed"],
            {(d, s, t): n for d, s, t, n in document["orders"]},
            {(d, s, t, rule, level): n for d, s, t, rule, level, n in document["found"]},
        )


def count_of(past: Past, answer: Answer, where: Where) -> Count:
    """One request counted."""
    found: Counter[Cell] = Counter((*where, row.rule_id, row.level) for row in answer.rows)
    unread = 0 if answer.is_read else 1
    return Count(1, unread, answer.not_assessed, {where: past.orders}, dict(found))


def summed(counts: Iterable[Count]) -> Count:
    """Many counts as one: the sum, made in place since it is as many additions as requests."""
    orders: Counter[Where] = Counter()
    found: Counter[Cell] = Counter()
    requests = unread = not_assessed = 0
    for one in counts:
        requests, unread = requests + one.requests, unread + one.unread
        not_assessed += one.not_assessed
        orders.update(one.orders)
        found.update(one.found)
    return Count(requests, unread, not_assessed, dict(orders), dict(found))


def per_100(rows: int, orders: int) -> float | None:
    """Rows per 100 orders; None where there was no order."""
    return PER * rows / orders if orders else None
