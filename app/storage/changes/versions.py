"""What each release said of each fluid; rows are only ever added."""

import hashlib
import json
from datetime import datetime

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from app.catalogue.changes.versions import FluidVersion
from app.storage.changes.tables import FluidVersionRow
from app.storage.tables import Document


def read_versions(session: Session) -> tuple[FluidVersion, ...]:
    """Every version of every fluid, in the order they were loaded."""
    row = FluidVersionRow
    columns = (row.fluid_id, row.document, row.from_at, row.release, row.id)
    found = session.execute(select(*columns).order_by(row.id))
    return tuple(
        FluidVersion(key, document or None, from_at, release, number)
        for key, document, from_at, release, number in found
    )


def newest_hashes(session: Session) -> dict[str, str]:
    """The hash of the newest version of each fluid that the releases still hold."""
    newest = select(func.max(FluidVersionRow.id)).group_by(FluidVersionRow.fluid_id)
    rows = session.execute(
        select(FluidVersionRow.fluid_id, FluidVersionRow.sha256, FluidVersionRow.document).where(
            FluidVersionRow.id.in_(newest)
        )
    )
    return {key: sha for key, sha, document in rows if document}


def read_newest(session: Session, fluid_id: str) -> Document | None:
    """What the newest release says of a fluid, or None."""
    row = FluidVersionRow
    newest = select(row.document).where(row.fluid_id == fluid_id).order_by(row.id.desc()).limit(1)
    return session.scalar(newest) or None


def add_version(
    session: Session, fluid_id: str, document: Document | None, *, at: datetime, release: str
) -> None:
    """What a release says of a fluid from now on; None takes it out."""
    held = document or {}
    session.add(
        FluidVersionRow(
            fluid_id=fluid_id, document=held, sha256=sha256_of(held), from_at=at, release=release
        )
    )
    session.flush()


def sha256_of(content: object) -> str:
    """The hash of a document's content; its layout and comments do not count."""
    text = json.dumps(content, sort_keys=True, ensure_ascii=False, default=str)
    return hashlib.sha256(text.encode()).hexdigest()
