"""A unit's reviews as a list to work through: whom to call about, whom to check, the rest."""

from collections.abc import Hashable, Iterable
from dataclasses import dataclass
from datetime import datetime
from typing import Final, Generic, TypeVar

from app.cautions.rule import LEVELS
from app.review.assess import Review
from app.review.fold import Row, rows_of

Key = TypeVar("Key", bound=Hashable)
# More rows than this are not read at a shift's start (USERS: 30 patients in 5 minutes).
MOST_OPEN: Final = 10
CRITICAL: Final = LEVELS.index("critical")
WARNING: Final = LEVELS.index("warning")


@dataclass(frozen=True, slots=True)
class ShiftRow(Generic[Key]):
    """One patient: the review, its findings by cause, and the key it was given with."""

    key: Key
    review: Review
    rows: tuple[Row, ...]

    @property
    def is_loud(self) -> bool:
        """True when something is to call about or to check."""
        return self.review.worst <= WARNING

    @property
    def not_assessed(self) -> int:
        """How many checks could not run."""
        review = self.review
        return len(review.patient_not_assessed) + sum(len(o.not_assessed) for o in review.orders)


@dataclass(frozen=True, slots=True)
class Shift(Generic[Key]):
    """All patients, worst first. open: the first rows, shown unfolded; at most ten."""

    rows: tuple[ShiftRow[Key], ...]
    to_call: int
    to_check: int
    could_not_assess: int
    nothing_found: int

    @property
    def open(self) -> tuple[ShiftRow[Key], ...]:
        """The rows to see first."""
        return tuple(row for row in self.rows if row.is_loud)[:MOST_OPEN]


def shift_of(reviews: Iterable[tuple[Key, Review]]) -> Shift[Key]:
    """The list: critical before warning, then more rows at that level, then the newer result.

    The order in which patients were given settles what is still equal.
    """
    rows = tuple(
        sorted((ShiftRow(key, review, rows_of(review)) for key, review in reviews), key=_urgency)
    )
    quiet = [row for row in rows if not row.is_loud]
    lacking = sum(row.not_assessed > 0 for row in quiet)
    return Shift(
        rows=rows,
        to_call=sum(row.review.worst == CRITICAL for row in rows),
        to_check=sum(row.review.worst == WARNING for row in rows),
        could_not_assess=lacking,
        nothing_found=len(quiet) - lacking,
    )


def _urgency(row: ShiftRow[Key]) -> tuple[int, int, float]:
    worst = row.review.worst
    same = sum(LEVELS.index(r.lead.finding.level) == worst for r in row.rows)
    return worst, -same, _age_of_newest_s(row.review)


def _age_of_newest_s(review: Review) -> float:
    """Seconds since the newest result; endless when there is none."""
    patient = review.case.patient
    times = [o.taken_at for group in patient.results.values() for o in group if o.taken_at]
    return _seconds(patient.now, max(times)) if times else float("inf")


def _seconds(now: datetime, then: datetime) -> float:
    return (now - then).total_seconds()
