"""Two people who change content, and what they write: for every test of changes."""

from datetime import datetime, timedelta

from sqlalchemy import Engine

from app.catalogue.changes.change import (
    Change,
    Content,
    Decision,
    FluidEntry,
    LimitValue,
    RuleSwitch,
    Signature,
    Verdict,
)
from app.catalogue.changes.history import Filed
from app.review.changes.decide import Reading, approve
from app.review.changes.draft import (
    Asked,
    draft_fluid,
    draft_limit,
    draft_removal,
    draft_switch,
)
from app.storage.database import transaction

RULE, LIMIT = "k-hyper", "potassium_high_mmol_l"
REASON = "agreed with the kidney unit"
YEAR = timedelta(days=365)


def pharmacist(at: datetime, name: str = "J. Birch") -> Signature:
    """A pharmacist at a moment."""
    return Signature(f"account-{name}", name, True, at)


def prescriber(at: datetime, name: str = "A. Rowan") -> Signature:
    """A prescriber who is no pharmacist, at a moment."""
    return Signature(f"account-{name}", name, False, at)


def change(
    content: Content, at: datetime, *, number: int = 1, counts: datetime | None = None
) -> Change:
    """A draft by the pharmacist, to count at once or later."""
    return Change(
        content, REASON, counts or at, (at + YEAR).date(), pharmacist(at), at.isoformat(), number
    )


def decided(number: int, verdict: Verdict, by: Signature) -> Decision:
    """A decision with a reason."""
    return Decision(number, verdict, by, "read and agreed")


def approved(
    content: Content, at: datetime, *, number: int = 1, counts: datetime | None = None
) -> Filed:
    """A change drafted and approved a minute later."""
    draft = change(content, at, number=number, counts=counts)
    return Filed(draft, (decided(number, "approved", prescriber(at + timedelta(minutes=1))),))


def asked(
    at: datetime, *, counts: datetime | str = "", based_on: str = "", revises: int = 0
) -> Asked:
    """What stands around a draft that is begun and sent at a moment."""
    return Asked(
        REASON, counts, (at + YEAR).date().isoformat(), based_on or at.isoformat(), revises
    )


def drafted(engine: Engine, content: Content, at: datetime, **how: str) -> int:
    """A draft in the database, by the pharmacist; its number."""
    by, told = pharmacist(at), asked(at, **how)  # type: ignore[arg-type]
    with transaction(engine) as session:
        if isinstance(content, LimitValue):
            value = "" if content.value is None else f"{content.value}"
            return draft_limit(session, (content.rule_id, content.name), value, told, by)
        if isinstance(content, RuleSwitch):
            return draft_switch(session, content.rule_id, content.on, told, by)
        assert isinstance(content, FluidEntry)
        if content.document is None:
            return draft_removal(session, content.fluid_id, told, by)
        return draft_fluid(session, content.document, told, by)


def in_force(engine: Engine, content: Content, at: datetime, **how: str) -> int:
    """A change drafted, and approved by the prescriber a minute later; its number."""
    number = drafted(engine, content, at, **how)
    later = at + timedelta(minutes=1)
    with transaction(engine) as session:
        approve(session, number, Reading(later.isoformat(), "not replayed yet"), prescriber(later))
    return number
