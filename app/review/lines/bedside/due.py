"""Who has fewer lumens than infusions due in the next hours: a count, without a plan. Pure."""

from dataclasses import dataclass
from typing import Final

from app.catalogue.vehicles.vehicle import Vehicles
from app.cautions.shared.substances import infusions_of
from app.patient.case import Case
from app.review.lines.bedside.lumens import access_of
from app.review.lines.bedside.timing import NO_LENGTH, NO_RATE, TOO_LONG, When, when_of

AHEAD_MIN: Final = 240


@dataclass(frozen=True, slots=True)
class Due:
    """Infusions due, and the lumens that may carry them."""

    infusions: int
    lumens: int

    @property
    def is_short(self) -> bool:
        """Fewer lumens than infusions: some share, or wait for each other."""
        return self.lumens < self.infusions


def due_of(case: Case, vehicles: Vehicles, failed: frozenset[str] = frozenset()) -> Due:
    """What runs or is due within AHEAD_MIN, a drug's doses counted once, and the lumens in use."""
    whens = (when_of(each, case, vehicles) for each in infusions_of(case))
    return Due(sum(map(_is_due, whens)), len(access_of(case.patient, failed).lumens))


def _is_due(when: When) -> bool:
    soon = any(piece.due_min < AHEAD_MIN for piece in when.pieces)
    return soon or when.why_not in (NO_RATE, NO_LENGTH, TOO_LONG)
