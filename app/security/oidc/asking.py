"""The house is asked again whether it still stands for somebody: what it takes away ends here.

A role taken from somebody at the house's directory is gone here within a quarter of an hour,
however long they work without a pause.
"""

import threading
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Final

from sqlalchemy import Engine

from app.security.oidc.arrival import HOUSE, NotLetIn, account_for
from app.security.oidc.flow import StandsNoMore, Stood, ask_again
from app.security.oidc.provider import Desk, OutOfReach
from app.security.oidc.setting_out import grant_of, sealed_grant
from app.security.standing import Standing
from app.storage.database import reading, transaction
from app.storage.people.accounts import subject_of
from app.storage.people.sessions import confirm, end_session, granted_to, lock

ASK_AFTER: Final = timedelta(minutes=10)
SURE_FOR: Final = timedelta(minutes=15)
SILENT_FOR: Final = timedelta(seconds=30)
STANDS_NO_MORE: Final = "the house's own sign-in stands for them no more"


@dataclass(slots=True)
class Asking:
    """What one process needs to ask. secret: opens what the house gave."""

    desk: Desk
    secret: str = field(repr=False)
    _asked: set[int] = field(default_factory=set)
    _silent_at: datetime | None = None
    _lock: threading.Lock = field(default_factory=threading.Lock)

    def is_due(self, standing: Standing, now: datetime) -> bool:
        """True for an open session of the house's that it stood for some while ago."""
        person, confirmed_at = standing.present, standing.confirmed_at
        if person is None or person.via != HOUSE or confirmed_at is None:
            return False
        return now - confirmed_at >= ASK_AFTER

    def ask(self, engine: Engine, standing: Standing, now: datetime) -> None:
        """Ask the house; what it says is written down, and the session looked up anew after.

        While the house does not answer, the session goes on until a quarter of an hour has passed
        since it last did, and is then locked.
        """
        assert standing.confirmed_at is not None
        sure = now - standing.confirmed_at < SURE_FOR
        if not self._begin(standing.session_id):
            return  # another request of the same session is asking
        try:
            self._ask(engine, standing, now, sure=sure)
        finally:
            self._end(standing.session_id)

    def _begin(self, session_id: int) -> bool:
        with self._lock:
            fresh = session_id not in self._asked
            self._asked.add(session_id)
            return fresh

    def _end(self, session_id: int) -> None:
        with self._lock:
            self._asked.discard(session_id)

    def _ask(self, engine: Engine, standing: Standing, now: datetime, *, sure: bool) -> None:
        person = standing.present
        assert person is not None
        with reading(engine) as session:
            subject = subject_of(session, person.account_id)
            again = grant_of(granted_to(session, standing.session_id).get("again", ""), self.secret)
        at_provider = subject.removeprefix(f"{self.desk.house.issuer} ")
        try:
            stood = self._heard(again, at_provider, now)
        except OutOfReach:
            if not sure:
                with transaction(engine) as session:
                    lock(session, standing.session_id, now)
        except StandsNoMore:
            with transaction(engine) as session:
                end_session(session, standing.session_id, now, STANDS_NO_MORE)
        else:
            self._keep_up(engine, standing, stood, now)

    def _heard(self, again: str, subject: str, now: datetime) -> Stood:
        """What the house says now. One that was silent a moment ago is not asked: while it is
        down, every page of everybody would wait for it.
        """
        if not again:
            raise OutOfReach("it gave nothing to ask again with")
        if self._silent_at is not None and timedelta() <= now - self._silent_at < SILENT_FOR:
            raise OutOfReach("it did not answer a moment ago")
        try:
            return ask_again(self.desk, again, subject, int(now.timestamp()))
        except OutOfReach:
            self._silent_at = now
            raise

    def _keep_up(self, engine: Engine, standing: Standing, stood: Stood, now: datetime) -> None:
        with transaction(engine) as session:
            try:
                account_for(session, self.desk.house, stood.told, now)
            except NotLetIn:
                end_session(session, standing.session_id, now, STANDS_NO_MORE)
            else:
                confirm(session, standing.session_id, now, granted_of(stood, self.secret))


def granted_of(stood: Stood, secret: str) -> dict[str, str]:
    """What a session keeps of what the house gave; nothing where it gave nothing to ask with."""
    return {"again": sealed_grant(stood.again, secret)} if stood.again else {}
