"""What people told of lumens: rows are only ever added, and what was told before stays."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from typing import Any, Final

from sqlalchemy import select
from sqlalchemy.orm import Session

from app.patient.lumen_told import LumenTold, failed_in, standing
from app.storage.tables import LumenToldRow

TOLD: Final = select(
    LumenToldRow.patient_id, LumenToldRow.lumen, LumenToldRow.state, LumenToldRow.at,
    LumenToldRow.by,
).order_by(LumenToldRow.id)  # fmt: skip


def read_told(session: Session, patient_id: str) -> Mapping[str, LumenTold]:
    """What counts of each lumen of one patient."""
    rows = session.execute(TOLD.where(LumenToldRow.patient_id == patient_id))
    return standing(map(_told, rows))


def read_failed(session: Session) -> Mapping[str, frozenset[str]]:
    """The failed lumens of every patient that has one."""
    told: defaultdict[str, list[LumenTold]] = defaultdict(list)
    for row in session.execute(TOLD):
        told[row.patient_id].append(_told(row))
    failed = {patient_id: failed_in(standing(each)) for patient_id, each in told.items()}
    return {patient_id: lumens for patient_id, lumens in failed.items() if lumens}


def tell_lumen(session: Session, patient_id: str, told: LumenTold) -> None:
    """Add what somebody told of a lumen."""
    session.add(
        LumenToldRow(
            patient_id=patient_id, lumen=told.lumen, state=told.state, at=told.at, by=told.by
        )
    )
    session.flush()


def _told(row: Sequence[Any]) -> LumenTold:
    # Only tell_lumen() writes these rows, and a LumenTold has no other state.
    _, lumen, state, at, by = row
    return LumenTold(lumen, state, at, by)
