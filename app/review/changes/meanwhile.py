"""Two people at the same entry: what changed between beginning a draft and sending it."""

from dataclasses import dataclass
from datetime import datetime
from typing import Final

from app.catalogue.changes.change import Content, FluidEntry, LimitValue, RuleSwitch
from app.catalogue.changes.differences import Difference, differences
from app.catalogue.changes.history import Filed
from app.catalogue.entry import EntryError
from app.cautions.phrases import number
from app.cautions.registry import RULE_BY_ID
from app.cautions.rule import Limit
from app.review.knowledge import Past

AS_SHIPPED: Final = "as shipped"
ON: Final = "on"
OFF: Final = "off"


@dataclass(frozen=True, slots=True)
class Meanwhile:
    """What happened to a subject since a moment.

    in_force: where what counts now differs from what counted then. drafts: what others drafted
    since, each with where it differs from what counts now. began: where a draft begins anew.
    """

    in_force: tuple[Difference, ...]
    drafts: tuple[tuple[Filed, tuple[Difference, ...]], ...]
    began: str


@dataclass(unsafe_hash=True)
class ChangedMeanwhile(Exception):
    """A draft was sent that was begun before somebody else's; nothing of it is kept or lost."""

    meanwhile: Meanwhile

    def __str__(self) -> str:
        return "Somebody else changed this entry while you wrote."


def began_text(at: datetime) -> str:
    """What a form carries to say when it was opened."""
    return at.isoformat()


def began_from(text: str, at: datetime) -> datetime:
    """The moment a form was opened. Raises EntryError for what is no moment up to now."""
    try:
        moment = datetime.fromisoformat(text)
    except ValueError:
        moment = None
    if moment is None or moment.tzinfo is None or moment > at:
        raise EntryError("based_on", text, "the moment at which the draft was begun")
    return moment


def meanwhile(past: Past, subject: str, began: datetime, at: datetime) -> Meanwhile | None:
    """What happened to a subject between two moments; None when nothing did."""
    now = content_at(past, subject, at)
    moved = apart(content_at(past, subject, began), now)
    drafted = tuple(
        (one, apart(now, one.change.content))
        for one in past.history.about(subject)
        if one.change.drafted.at > began and past.history.state(one, at) in ("draft", "waiting")
    )
    return Meanwhile(moved, drafted, began_text(at)) if moved or drafted else None


def content_at(past: Past, subject: str, moment: datetime) -> Content:
    """What counted for a subject at a moment, as a change would have said it."""
    kind, _, name = subject.partition(":")
    if kind == "fluid":
        return FluidEntry(name, past.documents(moment).get(name))
    filed = past.history.in_force(moment).get(subject)
    if kind == "rule":
        return filed.change.content if filed else RuleSwitch(name, on=True)
    rule_id, _, limit = name.partition("/")
    return filed.change.content if filed else LimitValue(rule_id, limit, None)


def apart(before: Content, after: Content) -> tuple[Difference, ...]:
    """Where two contents of one subject differ, field by field, as text."""
    if isinstance(before, FluidEntry) and isinstance(after, FluidEntry):
        return differences(before.document, after.document)
    if isinstance(before, LimitValue) and isinstance(after, LimitValue):
        limit = limit_named(after.rule_id, after.name)
        name = (limit.meaning if limit else "") or after.name.replace("_", " ")
        return _one("value", name, value_text(before.value, limit), value_text(after.value, limit))
    assert isinstance(before, RuleSwitch)
    assert isinstance(after, RuleSwitch)
    return _one("on", "the rule is", ON if before.on else OFF, ON if after.on else OFF)


def _one(field: str, name: str, before: str, after: str) -> tuple[Difference, ...]:
    return () if before == after else (Difference(field, name, before, after),)


def value_text(value: float | None, limit: Limit | None) -> str:
    """A limit's value with its unit; none of its own is the one shipped, which is said."""
    if limit is None:
        return AS_SHIPPED if value is None else number(value)
    if value is None:
        return f"{number(limit.value)} {limit.unit}, {AS_SHIPPED}"
    return f"{number(value)} {limit.unit}"


def limit_named(rule_id: str, name: str) -> Limit | None:
    """The limit of this release, or None."""
    rule = RULE_BY_ID.get(rule_id)
    return next((one for one in rule.limits if one.name == name), None) if rule else None
