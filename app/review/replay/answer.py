"""What a review says of one past request, as rows that can be counted and set side by side."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any, Final

from app.cautions.assess import Found
from app.cautions.rule import LEVELS, Level
from app.review.assess import Review

RowKey = tuple[str, tuple[str, ...]]
NOT_TOLD: Final = "not told"


@dataclass(frozen=True, slots=True)
class Past:
    """One past request with the moment it was looked at, and where. id: its row."""

    id: int
    at: datetime
    request: Mapping[str, Any]
    setting: str = NOT_TOLD

    @property
    def orders(self) -> int:
        """How many orders were written: the same whatever is made of them."""
        orders = self.request.get("orders") or ()
        return len(orders)


@dataclass(frozen=True, slots=True)
class AnswerRow:
    """What one rule says of one order (or of the patient, or of several orders together).

    A rule that speaks twice of the same orders is one row, at its worst level.
    """

    rule_id: str
    order_ids: tuple[str, ...]
    level: Level
    summary: str

    @property
    def key(self) -> RowKey:
        """What makes it the same row in another answer."""
        return self.rule_id, self.order_ids


@dataclass(frozen=True, slots=True)
class Answer:
    """One review as rows. not_assessed: checks that could not run. is_read: False where the
    request could not be read at all, of which nothing is known.
    """

    rows: tuple[AnswerRow, ...] = ()
    not_assessed: int = 0
    is_read: bool = True


UNREAD: Final = Answer(is_read=False)


def answer_of(review: Review) -> Answer:
    """The rows of a review. What holds only for some readings of a name is no row."""
    rows: dict[RowKey, AnswerRow] = {}
    for found in review.all_found:  # worst first, so that the first of a key is its worst
        row = row_of(found)
        rows.setdefault(row.key, row)
    missing = sum(len(order.not_assessed) for order in review.orders)
    return Answer(tuple(rows.values()), missing + len(review.patient_not_assessed))


def row_of(found: Found) -> AnswerRow:
    """One finding as a row."""
    finding = found.finding
    return AnswerRow(found.rule.id, tuple(finding.order_ids), finding.level, finding.summary)


def rank_of(level: str) -> int:
    """0 critical, 1 warning, 2 info, 3 for no row at all."""
    return LEVELS.index(level) if level in LEVELS else len(LEVELS)
