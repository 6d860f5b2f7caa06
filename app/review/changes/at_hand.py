"""What the running server reviews with: read again when a change begins to count, in any worker."""

from dataclasses import dataclass, field
from datetime import datetime
from threading import Lock

from sqlalchemy import Engine

from app.review.knowledge import Knowledge, Past, shipped
from app.storage.changes.records import Stamp, read_stamp
from app.storage.database import current, reading


@dataclass(slots=True)
class AtHand:
    """The knowledge in force, kept until a newer row or the moment of a waiting change.

    Asking costs one small query. Before anything is loaded it is what the release itself says.
    """

    engine: Engine
    _lock: Lock = field(default_factory=Lock)
    _stamp: Stamp | None = None
    _until: datetime | None = None
    _knowledge: Knowledge | None = None

    def knowledge(self, now: datetime) -> Knowledge:
        """What counts now. now: the real clock."""
        if self._stamp is None and current(self.engine) is None:
            return shipped()
        with reading(self.engine) as session:
            stamp = read_stamp(session)
            with self._lock:
                if self._knowledge is None or stamp != self._stamp or self._has_come(now):
                    past = Past.of(session)
                    found = past.at(now)
                    self._knowledge = found if len(found.catalogue) else shipped()
                    self._until, self._stamp = past.history.next_moment(now), stamp
                return self._knowledge

    def _has_come(self, now: datetime) -> bool:
        return self._until is not None and self._until <= now
