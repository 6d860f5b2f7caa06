"""The catalogue as the database has it, at any moment."""

from datetime import datetime

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from app.catalogue.catalogue import Catalogue
from app.catalogue.changes.versions import documents_at
from app.catalogue.entry import fluid_from
from app.storage.changes.records import read_history
from app.storage.changes.tables import FluidVersionRow
from app.storage.changes.versions import read_versions


def read_catalogue(session: Session, moment: datetime) -> Catalogue:
    """Every fluid in force at a moment, by id. Raises EntryError for a row that is not readable."""
    documents = documents_at(read_versions(session), read_history(session), moment)
    return Catalogue(tuple(fluid_from(found, file_id=key) for key, found in documents.items()))


def count_fluids(session: Session) -> int:
    """How many fluids were ever loaded."""
    return session.scalar(select(func.count(FluidVersionRow.fluid_id.distinct()))) or 0
