"""Past orders into the database: the demo's invented ones, or a unit's beds as they change."""

from collections.abc import Iterable
from datetime import datetime
from pathlib import Path

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from app.intake.vocabulary import Vocabulary
from app.storage.past.invented import invented_past
from app.storage.past.past import keep_past
from app.storage.past.plain import without_person
from app.storage.past.stories import FILE, read_stories
from app.storage.past.tables import PastOrderRow
from app.storage.patients import Bed


def load_invented(session: Session, until: datetime, path: Path = FILE) -> int:
    """Add the demo's past orders once; how many were new.

    They are made from their stories alone, so a second load makes none: what retention took away
    stays away.
    """
    invented = select(func.count(PastOrderRow.id)).where(PastOrderRow.invented)
    if session.scalar(invented):
        return 0
    return keep_past(session, invented_past(read_stories(path), until), invented=True)


def keep_beds(session: Session, beds: Iterable[Bed], at: datetime, vocabulary: Vocabulary) -> int:
    """Add each bed as it stands, without its person, unless it stands there already."""
    plain = ((at, without_person(bed.request, vocabulary, (bed.bed, bed.initials))) for bed in beds)
    return keep_past(session, plain)
