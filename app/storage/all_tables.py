"""Every table there is, for migrations and whole-database tests: importing this file knows all."""

from app.storage.audit import tables as audit
from app.storage.changes import tables as changes
from app.storage.past import tables as past
from app.storage.people import tables as people
from app.storage.replays import tables as replays
from app.storage.samples import tables as samples
from app.storage.shortage import tables as shortage
from app.storage.tables import Base

__all__ = ["Base", "audit", "changes", "past", "people", "replays", "samples", "shortage"]
