"""The catalogue as the database has it."""

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from app.catalogue.catalogue import Catalogue
from app.catalogue.entry import fluid_from
from app.storage.tables import FluidRow


def read_catalogue(session: Session) -> Catalogue:
    """Every fluid in the database, by id. Raises EntryError for a row that is not readable."""
    rows = session.execute(select(FluidRow.id, FluidRow.document)).all()
    # Sorted here and not by the database, whose order of letters is a local setting.
    documents = sorted(((row.id, row.document) for row in rows), key=lambda pair: pair[0])
    return Catalogue(tuple(fluid_from(document, file_id=key) for key, document in documents))


def count_fluids(session: Session) -> int:
    """How many fluids are loaded."""
    return session.scalar(select(func.count()).select_from(FluidRow)) or 0
