"""Beds of a unit whose clock runs, kept as past orders when they change: seen at each review."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import datetime

from sqlalchemy import Engine

from app.intake.vocabulary import Vocabulary
from app.storage.database import transaction
from app.storage.past.load import keep_beds
from app.storage.patients import Bed


@dataclass(slots=True)
class Keeper:
    """Remembers each bed as it was last kept, so that a look that finds no change writes nothing.

    What a past order is, the database holds alone; a keeper of a new process starts anew.
    """

    _last: dict[str, str] = field(default_factory=dict)

    def keep(
        self, engine: Engine, beds: Iterable[Bed], at: datetime, vocabulary: Vocabulary
    ) -> int:
        """Keep those that have changed since they were last kept; how many were new."""
        stands = {bed.patient_id: (bed, repr(bed.request)) for bed in beds}
        changed = [bed for key, (bed, text) in stands.items() if self._last.get(key) != text]
        if not changed:
            return 0
        with transaction(engine) as session:
            new = keep_beds(session, changed, at, vocabulary)
        self._last = {key: text for key, (_, text) in stands.items()}
        return new
