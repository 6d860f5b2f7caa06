"""What people told of lumens: rows are only ever added, and what was told before stays."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from typing import Any, Final

from sqlalchemy import select
from sqlalchemy.orm import Session

from app.patient.lumen_told import LumenTold, standing
from app.storage.tables import LumenToldRow

TOLD: Final = select(
    LumenToldRow.patient_id, LumenToldRow.lumen, LumenToldRow.state, LumenToldRow.at,
    LumenToldRow.by, LumenToldRow.size, LumenToldRow.site,
).order_by(LumenToldRow.id)  # fmt: skip


def read_told(session: Session, patient_id: str) -> Mapping[str, LumenTold]:
    """What counts of each lumen of one patient."""
    rows = session.execute(TOLD.where(LumenToldRow.patient_id == patient_id))
    return standing(map(_told, rows))


def read_all_told(session: Session) -> Mapping[str, Mapping[str, LumenTold]]:
    """What counts of each lumen of every patient of whom anything counts."""
    told: defaultdict[str, list[LumenTold]] = defaultdict(list)
    for row in session.execute(TOLD):
        told[row.patient_id].append(_told(row))
    stands = {patient_id: standing(each) for patient_id, each in told.items()}
    return {patient_id: lumens for patient_id, lumens in stands.items() if lumens}


def tell_lumen(session: Session, patient_id: str, told: LumenTold) -> int:
    """Add what somebody told of a lumen; its number."""
    row = LumenToldRow(
        patient_id=patient_id, lumen=told.lumen, state=told.state, at=told.at, by=told.by,
        size=told.size, site=told.site or "",
    )  # fmt: skip
    session.add(row)
    session.flush()
    return row.id


def _told(row: Sequence[Any]) -> LumenTold:
    # Only tell_lumen() writes these rows, and a LumenTold has no other state.
    _, lumen, state, at, by, size, site = row
    return LumenTold(lumen, state, at, by, size, site or None)
