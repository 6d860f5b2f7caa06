"""What a caution rule is, and what it says when it fires."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType
from typing import Final, Literal

from app.catalogue.source import Source
from app.patient.case import Case, Situation
from app.patient.known import Why

Level = Literal["critical", "warning", "info"]
LEVELS: tuple[Level, ...] = ("critical", "warning", "info")
# CDS Hooks 2.0: a card's summary is under 140 characters.
SUMMARY_AT_MOST: Final = 139
CUT: Final = " … ."
Limits = Mapping[str, float]
Population = Literal["all", "adult", "child", "neonate"]


@dataclass(frozen=True, slots=True)
class Limit:
    """A number a rule compares with. The source is the rule's unless one is given.

    advised: it is compared with nothing; the advice names it.
    """

    name: str
    value: float
    unit: str
    meaning: str = ""
    source: Source | None = None
    advised: bool = False


def defaults(limits: Iterable[Limit]) -> Limits:
    """Limits as shipped, by name: for the advice that a rule shows of itself."""
    return {limit.name: limit.value for limit in limits}


@dataclass(frozen=True, slots=True)
class Finding:
    """What one rule says of one order or patient.

    summary: at most 139 characters, can be read aloud: what, in whom, by how much. why: this
    patient's figures with times. figures: what was compared, by name with unit. limits: the
    names of the limits used. do: replaces the rule's own advice when set. order_ids: the orders
    concerned, filled in by the engine for an order rule.
    """

    level: Level
    summary: str
    why: str
    figures: Mapping[str, float | str] = field(default_factory=lambda: MappingProxyType({}))
    limits: tuple[str, ...] = ()
    do: str = ""
    order_ids: tuple[str, ...] = ()


def in_one_line(finding: Finding) -> Finding:
    """The finding with a summary that a card can show, however long the words it quotes."""
    if len(finding.summary) <= SUMMARY_AT_MOST:
        return finding
    cut = finding.summary[: SUMMARY_AT_MOST - len(CUT)].rsplit(" ", 1)[0]
    return replace(finding, summary=f"{cut.rstrip(',;:.')}{CUT}")


@dataclass(frozen=True, slots=True)
class NotAssessed:
    """A rule that could not run on one order or patient, and what it lacked."""

    rule_id: str
    needs: tuple[str, ...]
    why: Why
    detail: str
    order_id: str | None = None


OrderCheck = Callable[[Situation, Limits], Iterator[Finding]]
PatientCheck = Callable[[Case, Limits], Iterator[Finding]]


@dataclass(frozen=True, slots=True)
class Rule:
    """One caution.

    id: stable, never re-used. trigger: one sentence, says exactly what the check does. unless:
    what makes it untrue. do: what to do, in words. evidence: what is known for and against.
    needs: inputs without which it may be "not assessed". levels: those it can speak at. At least
    one of for_order and for_patient is set. Examples live in seed_data/rule_examples/, one file a
    family.
    """

    id: str
    title: str
    trigger: str
    unless: str
    do: str
    evidence: str
    sources: tuple[Source, ...]
    needs: tuple[str, ...] = ()
    limits: tuple[Limit, ...] = ()
    population: Population = "all"
    levels: tuple[Level, ...] = ()
    for_order: OrderCheck | None = None
    for_patient: PatientCheck | None = None
    status: Literal["active", "draft", "withdrawn"] = "active"
