"""Plans kept for a shortage, each as it was: rows are only ever added."""

from dataclasses import dataclass
from datetime import datetime
from typing import Final

from sqlalchemy import select
from sqlalchemy.orm import Session

from app.storage.shortage.tables import ShortagePlanRow
from app.storage.tables import Document

PLANS_SHOWN: Final = 50


@dataclass(frozen=True, slots=True)
class KeptPlan:
    """One plan with its note. document: as app/review/shortage/kept/document.py makes it."""

    at: datetime
    by: str
    account_id: str
    note: str
    document: Document
    number: int = 0


def keep_plan(session: Session, plan: KeptPlan) -> int:
    """Add a plan; returns its number."""
    row = ShortagePlanRow(
        at=plan.at, by=plan.by, account_id=plan.account_id, note=plan.note, document=plan.document
    )
    session.add(row)
    session.flush()
    return row.id


def read_plan(session: Session, number: int) -> KeptPlan | None:
    """One plan, None when there is none of this number."""
    row = session.get(ShortagePlanRow, number)
    return None if row is None else _plan(row)


def read_plans(session: Session, most: int = PLANS_SHOWN) -> tuple[KeptPlan, ...]:
    """The last plans, newest first."""
    query = select(ShortagePlanRow).order_by(ShortagePlanRow.id.desc()).limit(most)
    return tuple(_plan(row) for row in session.scalars(query))


def _plan(row: ShortagePlanRow) -> KeptPlan:
    return KeptPlan(row.at, row.by, row.account_id, row.note, row.document, row.id)
