"""What was in force when a receipt was made, as the database still tells."""

from dataclasses import dataclass, field
from datetime import datetime

from app.review.knowledge import Knowledge, Past
from app.review.receipts.reading import Kept


@dataclass(slots=True)
class InForceThen:
    """Finds, for a receipt, the moment whose rules and fluids it was made with.

    The moment it names comes first. A demo unit stands still at a moment of its own, so all others
    at which something else began to count are tried as well, the newest first: what a receipt was
    made with is told by its versions, never guessed from a date.
    """

    past: Past
    _at: dict[datetime, Knowledge] = field(default_factory=dict)

    def __call__(self, receipt: Kept) -> Knowledge | None:
        """The knowledge with the receipt's own versions of rules and fluids, or None."""
        wanted = receipt.document["versions"]
        content = wanted.get("ruleset"), wanted.get("catalogue")
        for moment in (receipt.made_at, *self.past.moments()):
            found = self._knowledge(moment)
            if (found.ruleset.version, found.catalogue.version) == content:
                return found
        return None

    def _knowledge(self, moment: datetime) -> Knowledge:
        if moment not in self._at:
            self._at[moment] = self.past.at(moment)
        return self._at[moment]
