"""What an administrator does, written into the trail of acts."""

from datetime import UTC, datetime

from fastapi import Request
from sqlalchemy.orm import Session

from app.storage.audit.trail import record
from app.storage.tables import Document
from app.web.who import signed_in


def noted(
    request: Request,
    session: Session,
    act: str,
    subject: str,
    **changed: Document | None,
) -> None:
    """One act of whoever is signed in, in the transaction of what was done.

    changed: before and after, where something had a value.
    """
    person = signed_in(request)
    record(
        session,
        at=datetime.now(UTC),
        who=person.name,
        account_id=person.account_id,
        act=act,
        subject=subject,
        **changed,
    )
