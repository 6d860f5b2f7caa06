"""Take away what is older than the unit keeps, and leave nothing of it in the file.

Kept whatever its age: content and its versions, notes, stock, plans, marks, and the trail of acts,
none of which holds a patient's bed, initials or words.
"""

from dataclasses import asdict, dataclass
from datetime import datetime
from typing import Any, Final

from sqlalchemy import (
    CursorResult,
    Delete,
    Engine,
    Select,
    delete,
    func,
    or_,
    select,
    union_all,
)
from sqlalchemy.orm import Session

from app.storage.past.past import purge_past
from app.storage.people.tables import AttemptRow, SessionRow
from app.storage.tables import (
    LumenToldRow,
    ObservationRow,
    OrderRow,
    PatientRow,
    SeedRunRow,
    UnitRow,
)

# Whatever dates a patient: of the newest of these it is told how long nothing was heard.
DATED: Final = (
    select(PatientRow.id.label("patient_id"), PatientRow.weight_taken_at.label("at")),
    select(ObservationRow.patient_id, ObservationRow.taken_at),
    select(OrderRow.patient_id, OrderRow.starts_at),
    select(OrderRow.patient_id, OrderRow.review_at),
)


@dataclass(frozen=True, slots=True)
class Purged:
    """How many of each were taken away. undated: patients kept for want of any date."""

    patients: int
    lumens: int
    past: int
    sessions: int
    attempts: int
    loads: int
    undated: int

    @property
    def anything(self) -> bool:
        """Whether anything was taken away."""
        return any(number for name, number in asdict(self).items() if name != "undated")


def purge(session: Session, before: datetime) -> Purged:
    """Take away everything that was last heard of before a moment; how much that was."""
    patients = _run(session, delete(PatientRow).where(PatientRow.id.in_(_silent_since(before))))
    return Purged(
        patients=patients,
        lumens=_run(session, delete(LumenToldRow).where(LumenToldRow.patient_id.not_in(_here()))),
        past=purge_past(session, before),
        sessions=_run(session, _old_sessions(before)),
        attempts=_run(session, delete(AttemptRow).where(AttemptRow.last_at < before)),
        # What a load told names beds by their files, and quotes what it refused.
        loads=_run(session, delete(SeedRunRow).where(SeedRunRow.at < before)),
        undated=_undated(session),
    )


def leave_nothing(engine: Engine) -> None:
    """Make the file anew without what was taken away; SQLite leaves it in unused pages otherwise.

    PostgreSQL frees rows by its own vacuum, which its keepers run.
    """
    if engine.dialect.name != "sqlite":
        return
    raw = engine.raw_connection()  # a transaction of ours would stand in its way
    try:
        cursor = raw.cursor()
        cursor.execute("VACUUM")
        cursor.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        cursor.close()
    finally:
        raw.close()


def _here() -> Select[Any]:
    return select(PatientRow.id)


def _silent_since(before: datetime) -> Select[Any]:
    """Patients of units that follow the clock, of whom something is dated and nothing since."""
    dated = union_all(*DATED).subquery()
    newest = (
        select(dated.c.patient_id)
        .group_by(dated.c.patient_id)
        .having(func.max(dated.c.at) < before)
    )
    by_the_clock = select(UnitRow.id).where(UnitRow.fixed_now.is_(None))
    return select(PatientRow.id).where(
        PatientRow.id.in_(newest), PatientRow.unit_id.in_(by_the_clock)
    )


def _undated(session: Session) -> int:
    dated = union_all(*DATED).subquery()
    known = select(dated.c.patient_id).where(dated.c.at.is_not(None))
    query = select(func.count()).select_from(PatientRow).where(PatientRow.id.not_in(known))
    return session.scalar(query) or 0


def _old_sessions(before: datetime) -> Delete:
    """Sessions that ended, or that nobody touched, before a moment."""
    row = SessionRow
    return delete(row).where(or_(row.ended_at < before, row.seen_at < before))


def _run(session: Session, statement: Delete) -> int:
    result = session.execute(statement, execution_options={"synchronize_session": False})
    assert isinstance(result, CursorResult)
    return int(result.rowcount)
