"""Drafting: what was asked is checked, laid beside what is in force, kept, and recorded.

Nothing that is drafted counts; see decide.py.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any, Final

from sqlalchemy.orm import Session

from app.catalogue.changes.change import (
    Change,
    Content,
    FluidEntry,
    LimitValue,
    RuleSwitch,
    Signature,
    limit_subject,
)
from app.catalogue.changes.terms import terms_from
from app.catalogue.check import check_fluid
from app.catalogue.entry import EntryError, fluid_from
from app.cautions.limits import limit_value_from
from app.cautions.registry import RULE_BY_ID
from app.cautions.switches import NEVER_OFF
from app.review.changes.meanwhile import (
    ChangedMeanwhile,
    apart,
    began_from,
    content_at,
    limit_named,
    meanwhile,
)
from app.review.knowledge import Past
from app.storage.audit.trail import record
from app.storage.changes.records import add_change

ACT: Final = "draft-change"
ID: Final = re.compile(r"[a-z0-9]+(?:[.-][a-z0-9]+)*")
LONGEST_ID: Final = 60
# What the form of an entry calls the part in which a doubt is explained.
REASONS: Final = "Reasons that let a doubt stand"


@dataclass(frozen=True, slots=True)
class Asked:
    """What stands around a draft, as written.

    effective_from: an ISO time, one without a zone in that of the signature's moment; empty for as
    soon as it is approved. based_on: the moment at which the draft was begun, as began_text() gave
    it to the form. revises: the number of the draft, sent back, that this one takes the place of.
    """

    reason: str
    effective_from: str | datetime
    review_on: str | date
    based_on: str
    revises: int = 0


def draft_fluid(session: Session, document: Mapping[str, Any], asked: Asked, by: Signature) -> int:
    """Draft a fluid's whole entry; the number of the change.

    Raises EntryError naming the first wrong field, or ChangedMeanwhile.
    """
    key = document.get("id")
    if not isinstance(key, str) or not ID.fullmatch(key) or len(key) > LONGEST_ID:
        raise EntryError("id", key, "small letters, digits and hyphens, such as ringers-acetate-2")
    fluid = fluid_from(document, file_id=key)
    faults = check_fluid(fluid)
    if faults:
        text = f"{faults[0].text}: correct it, or write why under “{REASONS}”"
        raise EntryError(faults[0].field, fluid.name, text)
    return _draft(session, FluidEntry(key, document), asked, by)


def draft_removal(session: Session, fluid_id: str, asked: Asked, by: Signature) -> int:
    """Draft that a fluid leaves the catalogue. Raises as draft_fluid() does."""
    return _draft(session, FluidEntry(fluid_id, None), asked, by)


def draft_limit(
    session: Session, named: tuple[str, str], written: str, asked: Asked, by: Signature
) -> int:
    """Draft a value for a rule's limit; the number of the change.

    named: rule and limit. written: the value as typed; empty is the value as shipped. Raises
    EntryError naming the first wrong field, or ChangedMeanwhile.
    """
    rule_id, name = named
    limit = limit_named(rule_id, name)
    if limit is None:
        raise EntryError("limit", "/".join(named), "a limit of a rule that this release knows")
    past = Past.of(session)
    held = content_at(past, limit_subject(rule_id, name), by.at)
    in_force = (
        held.value if isinstance(held, LimitValue) and held.value is not None else limit.value
    )
    value = limit_value_from(written, limit, in_force) if written.strip() else None
    return _draft(session, LimitValue(rule_id, name, value), asked, by)


def draft_switch(session: Session, rule_id: str, on: bool, asked: Asked, by: Signature) -> int:
    """Draft that a rule is off here, or on again. Raises EntryError or ChangedMeanwhile."""
    if rule_id not in RULE_BY_ID:
        raise EntryError("rule", rule_id, "a rule that this release knows")
    if rule_id in NEVER_OFF:
        accepted = "a rule about the order: what the data itself lacks is always said"
        raise EntryError("rule", rule_id, accepted)
    return _draft(session, RuleSwitch(rule_id, on), asked, by)


def _draft(session: Session, content: Content, asked: Asked, by: Signature) -> int:
    """Check what stands around it, and that nobody else was at it; keep and record it."""
    told = {
        "reason": asked.reason,
        "effective_from": asked.effective_from,
        "review_on": asked.review_on,
    }
    terms = terms_from(told, by.at)
    past = Past.of(session)
    _same_subject(past, content, asked.revises, by)
    since = meanwhile(past, content.subject, began_from(asked.based_on, by.at), by.at)
    if since is not None:
        raise ChangedMeanwhile(since)
    if not apart(content_at(past, content.subject, by.at), content):
        raise EntryError("value", "the same", "something else than what is in force")
    change = Change(
        content, terms.reason, terms.effective_from, terms.review_on, by, asked.based_on,
        revises=asked.revises,
    )  # fmt: skip
    number = add_change(session, change)
    record(
        session, at=by.at, who=by.name, account_id=by.account_id, act=ACT,
        subject=f"change:{number}", before=content_at(past, content.subject, by.at).as_data(),
        after={"subject": content.subject, **content.as_data()},
    )  # fmt: skip
    return number


def _same_subject(past: Past, content: Content, revises: int, by: Signature) -> None:
    """A draft takes the place only of one about the same thing that was sent back."""
    if not revises:
        return
    former = past.history.get(revises)
    if (
        former is None
        or former.change.subject != content.subject
        or past.history.state(former, by.at) != "sent back"
    ):
        raise EntryError("revises", revises, "a draft about the same that was sent back")
