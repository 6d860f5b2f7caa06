"""A change of content: one fluid's whole entry, one limit, or one rule off or on again.

A change is drafted by one person and decided by another; both are rows that are only ever added.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any, Final, Literal

from app.catalogue.entry import EntryError

Kind = Literal["fluid", "limit", "switch"]
Verdict = Literal["approved", "sent back", "withdrawn"]
KINDS: Final[tuple[Kind, ...]] = ("fluid", "limit", "switch")
Document = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Signature:
    """Who did something and when. account_id: never given to another person. pharmacist: whether
    they were one at that moment.
    """

    account_id: str
    name: str
    pharmacist: bool
    at: datetime


@dataclass(frozen=True, slots=True)
class FluidEntry:
    """A fluid's whole catalogue entry; None takes it out of the catalogue."""

    fluid_id: str
    document: Document | None

    kind: Kind = "fluid"

    @property
    def subject(self) -> str:
        """What it is about, as the trail of acts names it."""
        return f"fluid:{self.fluid_id}"

    def as_data(self) -> dict[str, Any]:
        """What is stored beside the subject."""
        return {"document": None if self.document is None else dict(self.document)}


@dataclass(frozen=True, slots=True)
class LimitValue:
    """One limit of one rule, in the limit's own unit; None is the value as shipped."""

    rule_id: str
    name: str
    value: float | None

    kind: Kind = "limit"

    @property
    def subject(self) -> str:
        """What it is about, as the trail of acts names it."""
        return limit_subject(self.rule_id, self.name)

    def as_data(self) -> dict[str, Any]:
        """What is stored beside the subject."""
        return {"value": self.value}


@dataclass(frozen=True, slots=True)
class RuleSwitch:
    """One rule off, or on again."""

    rule_id: str
    on: bool

    kind: Kind = "switch"

    @property
    def subject(self) -> str:
        """What it is about, as the trail of acts names it."""
        return rule_subject(self.rule_id)

    def as_data(self) -> dict[str, Any]:
        """What is stored beside the subject."""
        return {"on": self.on}


Content = FluidEntry | LimitValue | RuleSwitch


@dataclass(frozen=True, slots=True)
class Change:
    """One draft.

    effective_from: never before it was drafted. review_on: the day by which it is looked at again.
    based_on: names what was in force, and drafted, when it was begun. number: 0 until it is stored.
    revises: the number of the draft, sent back, that it takes the place of, or 0.
    """

    content: Content
    reason: str
    effective_from: datetime
    review_on: date
    drafted: Signature
    based_on: str = ""
    number: int = 0
    revises: int = 0

    @property
    def subject(self) -> str:
        """What it is about: "fluid:ID", "limit:RULE/NAME" or "rule:ID"."""
        return self.content.subject


@dataclass(frozen=True, slots=True)
class Decision:
    """What somebody decided of a change. reason: empty where none was needed. replay: the number
    of the replay it was approved on, empty without one.
    """

    change: int
    verdict: Verdict
    signed: Signature
    reason: str = ""
    replay: str = ""


def limit_subject(rule_id: str, name: str) -> str:
    """How the trail of acts names a limit."""
    return f"limit:{rule_id}/{name}"


def rule_subject(rule_id: str) -> str:
    """How the trail of acts names a rule that is off or on."""
    return f"rule:{rule_id}"


def content_from(subject: str, data: Mapping[str, Any]) -> Content:
    """The content that was stored under a subject. Raises EntryError for one of no known kind."""
    kind, _, name = subject.partition(":")
    if kind == "fluid":
        return FluidEntry(name, data["document"])
    if kind == "rule":
        return RuleSwitch(name, bool(data["on"]))
    rule_id, slash, limit = name.partition("/")
    if kind != "limit" or not slash:
        raise EntryError("subject", subject, "fluid:ID, limit:RULE/NAME or rule:ID")
    return LimitValue(rule_id, limit, data["value"])
