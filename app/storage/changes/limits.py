"""A hospital's dated changes of limits, oldest first; rows are only ever added."""

from sqlalchemy import select
from sqlalchemy.orm import Session

from app.cautions.limits import LimitChange
from app.storage.tables import LimitChangeRow


def read_limit_changes(session: Session) -> tuple[LimitChange, ...]:
    """Every change recorded, in the order they were written."""
    row = LimitChangeRow
    columns = (row.rule_id, row.name, row.value, row.from_day, row.reason, row.by)
    return tuple(
        LimitChange(*found) for found in session.execute(select(*columns).order_by(row.id))
    )


def add_limit_change(session: Session, change: LimitChange) -> None:
    """Record one change."""
    session.add(
        LimitChangeRow(
            rule_id=change.rule_id,
            name=change.name,
            value=change.value,
            from_day=change.from_day,
            reason=change.reason,
            by=change.by,
        )
    )
