"""Changes and decisions in the database: added, and read whole or as they stood at a moment."""

from typing import Final

from sqlalchemy import func, select
from sqlalchemy.exc import IntegrityError
from sqlalchemy.orm import Session

from app.catalogue.changes.change import Change, Decision, Signature, content_from
from app.catalogue.changes.history import History, history_of
from app.storage.changes.tables import ContentChangeRow, ContentDecisionRow, FluidVersionRow

Stamp = tuple[int, int]
# The newest row of each table that decides what counts: one small query.
STAMP: Final = select(
    select(func.coalesce(func.max(FluidVersionRow.id), 0)).scalar_subquery(),
    select(func.coalesce(func.max(ContentDecisionRow.id), 0)).scalar_subquery(),
)


class DecidedMeanwhile(Exception):
    """Somebody decided the same change at the same moment, and came first."""

    def __str__(self) -> str:
        return "Somebody else decided this change at the same moment; look at it again."


def read_history(session: Session) -> History:
    """Every change with its decisions, in the order they were made."""
    changes = session.scalars(select(ContentChangeRow).order_by(ContentChangeRow.id))
    decisions = session.scalars(select(ContentDecisionRow).order_by(ContentDecisionRow.id))
    return history_of(map(_change, changes), map(_decision, decisions))


def read_stamp(session: Session) -> Stamp:
    """Changes whenever a release is loaded or a change decided."""
    release, decision = session.execute(STAMP).one()
    return release, decision


def add_change(session: Session, change: Change) -> int:
    """Keep a draft; its number."""
    drafted = change.drafted
    row = ContentChangeRow(
        subject=change.subject, content=change.content.as_data(), reason=change.reason,
        effective_from=change.effective_from, review_on=change.review_on,
        based_on=change.based_on, revises=change.revises or None, drafted_by=drafted.name,
        drafted_by_id=drafted.account_id, drafted_as_pharmacist=drafted.pharmacist,
        drafted_at=drafted.at,
    )  # fmt: skip
    session.add(row)
    session.flush()
    return row.id


def add_decision(session: Session, decision: Decision, *, before: int) -> None:
    """Keep a decision. before: how many the decider saw. Raises DecidedMeanwhile when there are
    more by now.
    """
    signed = decision.signed
    row = ContentDecisionRow(
        change_id=decision.change, number=before, verdict=decision.verdict, reason=decision.reason,
        replay=decision.replay, by=signed.name, by_id=signed.account_id,
        as_pharmacist=signed.pharmacist, at=signed.at,
    )  # fmt: skip
    try:
        with session.begin_nested():
            session.add(row)
            session.flush()
    except IntegrityError as taken:
        raise DecidedMeanwhile from taken


def _change(row: ContentChangeRow) -> Change:
    return Change(
        content=content_from(row.subject, row.content),
        reason=row.reason,
        effective_from=row.effective_from,
        review_on=row.review_on,
        drafted=Signature(
            row.drafted_by_id, row.drafted_by, row.drafted_as_pharmacist, row.drafted_at
        ),
        based_on=row.based_on,
        number=row.id,
        revises=row.revises or 0,
    )


def _decision(row: ContentDecisionRow) -> Decision:
    return Decision(
        change=row.change_id,
        verdict=row.verdict,  # type: ignore[arg-type]  # only verdicts are ever stored
        signed=Signature(row.by_id, row.by, row.as_pharmacist, row.at),
        reason=row.reason,
        replay=row.replay,
    )
