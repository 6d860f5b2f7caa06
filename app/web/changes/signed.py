"""Who signs, and the moment on the unit's own clock. Content counts by the real clock."""

from datetime import UTC, datetime
from zoneinfo import ZoneInfo

from sqlalchemy.orm import Session

from app.catalogue.changes.change import Signature
from app.security.acts import Role
from app.security.person import Person
from app.storage.patients import read_unit


def here(session: Session) -> datetime:
    """The real moment in the unit's zone, wherever a demo unit stands still."""
    unit = read_unit(session)
    return datetime.now(ZoneInfo(unit.zone) if unit else UTC)


def signature_of(person: Person, at: datetime) -> Signature:
    """A person's signature at a moment."""
    return Signature(person.account_id, person.name, Role.PHARMACIST in person.roles, at)
