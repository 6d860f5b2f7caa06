"""The form that drafts a change of a limit or of a rule, with what was typed kept."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

from app.catalogue.changes.change import Content, LimitValue, RuleSwitch
from app.catalogue.changes.differences import Difference
from app.catalogue.changes.history import Filed
from app.catalogue.entry import EntryError
from app.cautions.limits import span_of
from app.cautions.phrases import number
from app.cautions.rule import Limit, Rule
from app.review.changes.meanwhile import Meanwhile, apart, content_at, value_text
from app.review.knowledge import Past
from app.web.changes.words import limit_words, rule_title, signed_text

REVIEWED_AFTER: Final = timedelta(days=365)
FIELDS: Final = {
    "value": "New value", "reason": "Why", "effective_from": "Counts from",
    "review_on": "To be looked at again by", "based_on": "Begun", "rule": "Rule",
    "limit": "Limit", "revises": "Takes the place of",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class OtherDraft:
    """What somebody else has drafted of the same, and where it differs from what counts."""

    number: int
    signed: str
    reason: str
    differences: tuple[Difference, ...]


@dataclass(frozen=True, slots=True)
class DraftPage:
    """The form. limit: its name, empty when the rule is switched. told: what is in force, in a
    sentence. moved: what came to count while it was written; drafts: what others drafted of it.
    fault: the field and its message.
    """

    rule_id: str
    rule: str
    limit: str
    turn: str
    heading: str
    told: str
    accepted: str
    unit: str
    shipped: str
    is_own: bool
    typed: Mapping[str, str]
    fault: tuple[str, str]
    moved: tuple[Difference, ...]
    drafts: tuple[OtherDraft, ...]
    is_late: bool
    based_on: str
    revises: int


@dataclass(frozen=True, slots=True)
class Subject:
    """What is to be changed of a rule: one of its limits, or whether it runs."""

    rule: Rule
    limit: Limit | None = None
    turn: str = ""

    @property
    def content(self) -> Content:
        """The content as it would be named; its value is still open."""
        if self.limit is None:
            return RuleSwitch(self.rule.id, self.turn == "on")
        return LimitValue(self.rule.id, self.limit.name, None)


def draft_page(
    subject: Subject,
    past: Past,
    now: datetime,
    typed: Mapping[str, str] | None = None,
    refused: EntryError | Meanwhile | None = None,
) -> DraftPage:
    """The form at a moment: empty, filled from a draft that was sent back, or refused."""
    late = refused if isinstance(refused, Meanwhile) else None
    held = content_at(past, subject.content.subject, now)
    limit = subject.limit
    least, most = span_of(limit) if limit else (0.0, 0.0)
    told = dict(typed or blank(now))
    return DraftPage(
        rule_id=subject.rule.id,
        rule=rule_title(subject.rule.id),
        limit=limit.name if limit else "",
        turn=subject.turn,
        heading=_heading(subject),
        told=_told(held, limit),
        accepted=f"from {number(least)} to {number(most)}" if limit else "",
        unit=limit.unit if limit else "",
        shipped=value_text(limit.value, limit) if limit else "",
        is_own=isinstance(held, LimitValue) and held.value is not None,
        typed=told,
        fault=_fault(refused) if isinstance(refused, EntryError) else ("", ""),
        moved=late.in_force if late else (),
        drafts=_drafts(subject, past, now, late),
        is_late=late is not None,
        based_on=now.isoformat() if late or "based_on" not in told else told["based_on"],
        revises=int(told.get("revises") or 0),
    )


def blank(now: datetime) -> dict[str, str]:
    """An empty form; the day of the review is proposed, a year from now."""
    review = (now + REVIEWED_AFTER).date().isoformat()
    return {
        "value": "", "shipped": "", "reason": "", "effective_from": "", "review_on": review,
        "revises": "",
    }  # fmt: skip


def from_sent_back(filed: Filed, now: datetime) -> dict[str, str]:
    """The form filled with what a draft said that was sent back; its moment may have passed."""
    change, content = filed.change, filed.change.content
    value = content.value if isinstance(content, LimitValue) else None
    later = change.effective_from > now
    return {
        **blank(now),
        "value": "" if value is None else f"{value:g}",
        "shipped": "1" if isinstance(content, LimitValue) and value is None else "",
        "reason": change.reason,
        "effective_from": f"{change.effective_from.astimezone(now.tzinfo):%Y-%m-%dT%H:%M}"
        if later
        else "",
        "revises": str(change.number),
    }


def _heading(subject: Subject) -> str:
    if subject.limit is None:
        return "Switch this rule on again" if subject.turn == "on" else "Switch this rule off here"
    words = limit_words(LimitValue(subject.rule.id, subject.limit.name, None))
    return f"Change a limit: {words}"


def _told(held: Content, limit: Limit | None) -> str:
    if isinstance(held, RuleSwitch):
        return "The rule runs here." if held.on else "The rule is switched off here."
    assert isinstance(held, LimitValue)
    return f"In force here: {value_text(held.value, limit)}."


def _fault(refused: EntryError) -> tuple[str, str]:
    """The field and what is said beside it: the value, and what is accepted."""
    value = refused.value
    was = f"“{value}” is not accepted." if value not in ("", None) else "Nothing is written."
    field = refused.field if refused.field in FIELDS else "value"
    return field, f"{was} Accepted: {refused.accepted}."


def _drafts(
    subject: Subject, past: Past, now: datetime, late: Meanwhile | None
) -> tuple[OtherDraft, ...]:
    """What others drafted of the same that is not decided, or waits."""
    if late is not None:
        return tuple(_other(filed, where, now) for filed, where in late.drafts)
    history = past.history
    return tuple(
        _other(filed, apart(content_at(past, filed.change.subject, now), filed.change.content), now)
        for filed in history.about(subject.content.subject)
        if history.state(filed, now) in ("draft", "waiting")
    )


def _other(filed: Filed, where: tuple[Difference, ...], now: datetime) -> OtherDraft:
    change = filed.change
    return OtherDraft(change.number, signed_text(change.drafted, now), change.reason, where)
