"""Deciding a draft: approved by a second person, sent back, or withdrawn; kept and recorded."""

from dataclasses import dataclass
from typing import Final, Protocol

from sqlalchemy.orm import Session

from app.catalogue.changes.allowed import (
    NotAllowed,
    refuse,
    why_not_approved,
    why_not_sent_back,
    why_not_withdrawn,
)
from app.catalogue.changes.change import Decision, Signature, Verdict
from app.catalogue.changes.history import Filed
from app.catalogue.changes.terms import LONGEST_REASON
from app.catalogue.pairs.local_note import needed
from app.review.changes.meanwhile import began_from, content_at, meanwhile
from app.review.knowledge import Past
from app.storage.audit.trail import record
from app.storage.changes.records import add_decision

ACTS: Final[dict[Verdict, str]] = {
    "approved": "approve-change", "sent back": "send-back-change", "withdrawn": "withdraw-change",
}  # fmt: skip
NOT_REPLAYED: Final = "it was not replayed on past orders"
REPLAYED_BEFORE: Final = "what is in force has changed since its replay"
SILENCES: Final = "critical findings would fall silent or be said more quietly"
OVER_THE_CAP: Final = "its replay raises the burden by more than the cap allows"


class Replayed(Protocol):
    """What approving needs to know of a replay."""

    @property
    def id(self) -> int:
        """Its number, which the decision keeps."""

    @property
    def over_cap(self) -> bool:
        """Whether burden would rise by more than the unit allows without a reason."""

    @property
    def critical_lost(self) -> int:
        """Critical findings of past orders that would vanish or be said more quietly."""

    @property
    def before(self) -> str:
        """The version of the knowledge that was in force when it ran."""


@dataclass(frozen=True, slots=True)
class Reading:
    """What somebody had before them when they decided. seen: when their page was made.

    silences: whether a critical example of the rule would fall silent or be said more quietly.
    """

    seen: str
    reason: str = ""
    replay: Replayed | None = None
    silences: bool = False


def reason_needed(replay: Replayed | None, in_force: str, *, silences: bool = False) -> str:
    """Why an approval needs a written reason; empty when it needs none.

    in_force: the version of the knowledge in force now. silences: as in Reading. Less burden is
    no merit where it is the critical findings that go.
    """
    if replay is None:
        return NOT_REPLAYED
    if replay.over_cap:
        return OVER_THE_CAP
    if silences or replay.critical_lost:
        return SILENCES
    return "" if replay.before == in_force else REPLAYED_BEFORE


def approve(session: Session, number: int, reading: Reading, by: Signature) -> Filed:
    """Approve a draft: it counts from its moment on, or from now.

    Raises LookupError, NotAllowed, EntryError where a reason must be written, DecidedMeanwhile.
    """
    past, filed = _found(session, number)
    refuse(why_not_approved(filed, by, past.history))
    subject = filed.change.subject
    since = meanwhile(past, subject, began_from(reading.seen, by.at), by.at)
    if since is not None:
        raise NotAllowed(
            "What is in force, or drafted, changed while you read. Look at it again, then decide."
        )
    why = reason_needed(reading.replay, past.at(by.at).version, silences=reading.silences)
    reason = reading.reason
    if why or reason.strip():
        accepted = f"why it is approved although {why}" if why else "a reason"
        reason = needed({"reason": reason}, "reason", LONGEST_REASON, accepted)
    replay = str(reading.replay.id) if reading.replay else ""
    decided = _decide(session, filed, Decision(number, "approved", by, reason, replay))
    record(
        session, at=by.at, who=by.name, account_id=by.account_id, act=ACTS["approved"],
        subject=subject, before=content_at(past, subject, by.at).as_data(),
        after=filed.change.content.as_data(),
    )  # fmt: skip
    return decided


def send_back(session: Session, number: int, reason: str, by: Signature) -> Filed:
    """Send a draft back to who wrote it. Raises as approve() does."""
    past, filed = _found(session, number)
    refuse(why_not_sent_back(filed, by, past.history))
    told = needed({"reason": reason}, "reason", LONGEST_REASON, "what is to be done differently")
    return _decide(session, filed, Decision(number, "sent back", by, told))


def withdraw(session: Session, number: int, reason: str, by: Signature) -> Filed:
    """Withdraw a draft, or an approved change before its moment. Raises as approve() does."""
    past, filed = _found(session, number)
    refuse(why_not_withdrawn(filed, by, past.history))
    told = needed({"reason": reason}, "reason", LONGEST_REASON, "why it is withdrawn")
    return _decide(session, filed, Decision(number, "withdrawn", by, told))


def _found(session: Session, number: int) -> tuple[Past, Filed]:
    past = Past.of(session)
    filed = past.history.get(number)
    if filed is None:
        raise LookupError(number)
    return past, filed


def _decide(session: Session, filed: Filed, decision: Decision) -> Filed:
    """Keep a decision and record it."""
    add_decision(session, decision, before=len(filed.decisions))
    by = decision.signed
    after = Filed(filed.change, (*filed.decisions, decision))
    told: dict[str, str] = {"verdict": decision.verdict}
    if after.counts_from is not None:
        told["counts_from"] = after.counts_from.isoformat()
    record(
        session, at=by.at, who=by.name, account_id=by.account_id, act=ACTS[decision.verdict],
        subject=f"change:{decision.change}", after=told,
    )  # fmt: skip
    return after
