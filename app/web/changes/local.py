"""What this hospital has of its own in the rules: limits beside the release's, and rules off."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime

from app.catalogue.changes.change import LimitValue, RuleSwitch
from app.catalogue.changes.history import Filed
from app.review.changes.meanwhile import limit_named, value_text
from app.review.knowledge import Knowledge, Past
from app.web.changes.rows import ChangeRow, change_row
from app.web.changes.words import (
    counts_text,
    limit_words,
    review_text,
    rule_title,
    signed_text,
)


@dataclass(frozen=True, slots=True)
class OwnLimit:
    """A limit of which this hospital has a value of its own, with who, when and why."""

    number: int
    meaning: str
    value: str
    shipped: str
    signed: str
    why: str
    review: str
    is_expired: bool


@dataclass(frozen=True, slots=True)
class Off:
    """A rule that is switched off here, with who, when and why."""

    number: int
    rule_id: str
    title: str
    signed: str
    why: str
    review: str
    is_expired: bool


@dataclass(frozen=True, slots=True)
class Local:
    """All that is the hospital's own. own: limits by rule, then by name. off: rules by id. open:
    what is drafted or waits, by rule.
    """

    own: Mapping[str, Mapping[str, OwnLimit]] = field(default_factory=dict)
    off: Mapping[str, Off] = field(default_factory=dict)
    open: Mapping[str, tuple[ChangeRow, ...]] = field(default_factory=dict)
    expired: int = 0

    @property
    def limits(self) -> int:
        """How many limits are the hospital's own."""
        return sum(map(len, self.own.values()))

    @property
    def waiting(self) -> int:
        """How many changes of rules are to be decided or wait for their moment."""
        return sum(map(len, self.open.values()))


def local_of(past: Past, knowledge: Knowledge, now: datetime) -> Local:
    """What is the hospital's own at a moment."""
    own: dict[str, dict[str, OwnLimit]] = {}
    off: dict[str, Off] = {}
    in_force = past.history.in_force(now).values()
    for filed in in_force:
        content = filed.change.content
        if isinstance(content, LimitValue) and content.value is not None:
            own.setdefault(content.rule_id, {})[content.name] = _own(filed, content, now)
        if isinstance(content, RuleSwitch) and not content.on:
            off[content.rule_id] = _off(filed, content, now)
    expired = len(past.history.expired(now.date(), now))
    return Local(own, dict(sorted(off.items())), _open(past, knowledge, now), expired)


def _open(past: Past, knowledge: Knowledge, now: datetime) -> Mapping[str, tuple[ChangeRow, ...]]:
    found: dict[str, tuple[ChangeRow, ...]] = {}
    for filed in past.history:
        content = filed.change.content
        if not isinstance(content, LimitValue | RuleSwitch):
            continue
        if past.history.state(filed, now) in ("draft", "waiting"):
            row = change_row(filed, past, knowledge, now)
            found[content.rule_id] = (*found.get(content.rule_id, ()), row)
    return found


def _own(filed: Filed, content: LimitValue, now: datetime) -> OwnLimit:
    limit = limit_named(content.rule_id, content.name)
    return OwnLimit(
        number=filed.change.number,
        meaning=limit_words(content),
        value=value_text(content.value, limit),
        shipped=value_text(limit.value, limit) if limit else "",
        signed=_signed(filed, now),
        why=filed.change.reason,
        review=review_text(filed, "in force", now),
        is_expired=filed.change.review_on < now.date(),
    )


def _off(filed: Filed, content: RuleSwitch, now: datetime) -> Off:
    return Off(
        number=filed.change.number,
        rule_id=content.rule_id,
        title=rule_title(content.rule_id),
        signed=_signed(filed, now),
        why=filed.change.reason,
        review=review_text(filed, "in force", now),
        is_expired=filed.change.review_on < now.date(),
    )


def _signed(filed: Filed, now: datetime) -> str:
    """From when, drafted by whom, approved by whom."""
    approved = filed.decided("approved")
    by = f"; approved by {signed_text(approved.signed, now)}" if approved else ""
    counts = counts_text(filed, "in force", now)
    return f"{counts}; drafted by {signed_text(filed.change.drafted, now)}{by}"
