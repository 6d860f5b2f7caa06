"""Seal the trail anew, by a person, for a reason: the only way past a seal that does not hold."""

from dataclasses import replace
from typing import Final

from sqlalchemy.orm import Session

from app.intake.errors import InputError
from app.storage.audit.acts import SEALED_ANEW
from app.storage.audit.reading import read_head
from app.storage.audit.trail import Done, NoTrail, add
from app.storage.database import TRAIL_KEY

SUBJECT: Final = "trail"


def seal_anew(session: Session, by: Done) -> None:
    """Record that the trail is sealed anew, with the head as it was, and seal all there is.

    by: who, when, and in after the reason. Raises NoTrail; InputError when there is no secret.
    """
    head = read_head(session)
    if head is None:
        raise NoTrail
    if not session.connection().get_execution_options().get(TRAIL_KEY):
        raise InputError("RINGSIDE_SECRET", "", "a secret to seal with")
    before = {"rows": head.count, "last": head.last, "sealed": head.sealed}
    add(session, replace(by, act=SEALED_ANEW, subject=SUBJECT, before=before), seal_anew=True)
