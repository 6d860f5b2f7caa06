"""Who may decide a change: never the one who drafted it, and one of the two is a pharmacist."""

from dataclasses import dataclass
from datetime import datetime

from app.catalogue.changes.change import Signature
from app.catalogue.changes.history import Filed, History, State

# Not frozen: Python itself sets an exception's traceback as it passes a context manager.


@dataclass(unsafe_hash=True)
class NotAllowed(Exception):
    """Why somebody may not decide a change in this way, in a sentence."""

    why: str

    def __str__(self) -> str:
        return self.why


def why_not_approved(filed: Filed, by: Signature, history: History) -> str:
    """Why this person may not approve it now; empty when they may."""
    settled = _settled(filed, history.state(filed, by.at), "approved")
    if settled:
        return settled
    drafted = filed.change.drafted
    if drafted.account_id == by.account_id:
        return "Nobody approves a draft of their own: somebody else reads it and decides."
    if not (drafted.pharmacist or by.pharmacist):
        return (
            f"One of the two must be a pharmacist, and neither {drafted.name} nor {by.name} is one."
        )
    return ""


def why_not_sent_back(filed: Filed, by: Signature, history: History) -> str:
    """Why this person may not send it back now; empty when they may."""
    settled = _settled(filed, history.state(filed, by.at), "sent back")
    if settled:
        return settled
    if filed.change.drafted.account_id == by.account_id:
        return "A draft of one's own is withdrawn, not sent back."
    return ""


def why_not_withdrawn(filed: Filed, by: Signature, history: History) -> str:
    """Why this person may not withdraw it now; empty when they may. An approved change may be
    withdrawn until its moment comes.
    """
    state = history.state(filed, by.at)
    if state == "waiting":
        return ""
    settled = _settled(filed, state, "withdrawn")
    if settled:
        return settled
    if filed.change.drafted.account_id != by.account_id:
        return f"Only {filed.change.drafted.name}, who drafted it, withdraws a draft; send it back."
    return ""


def _settled(filed: Filed, state: State, asked: str) -> str:
    """What was decided before, as the reason why nothing more is decided."""
    if state == "draft":
        return ""
    last = filed.decisions[-1]
    told = f"It was {last.verdict} by {last.signed.name} before, so it cannot be {asked}"
    if state in ("in force", "superseded"):
        return f"{told}; what counts is changed by a new draft."
    return f"{told}."


def refuse(why: str) -> None:
    """Raise NotAllowed when there is a reason."""
    if why:
        raise NotAllowed(why)


def is_open(filed: Filed, history: History, moment: datetime) -> bool:
    """Whether a change is still drafted, or approved and waiting, at a moment."""
    return history.state(filed, moment) in ("draft", "waiting")
