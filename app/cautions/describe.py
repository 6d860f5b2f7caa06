"""A rule as reference text: what the rules page and the table for developers show."""

from dataclasses import dataclass
from typing import Final

from app.catalogue.source import NO_SOURCE, Source
from app.cautions.phrases import number
from app.cautions.rule import Level, Limit, Limits, Rule

FROM_MEMORY: Final = "from memory, not checked against the text"
SEEN: Final = "text seen"
WHOM: Final = {
    "all": "every patient",
    "adult": "adults",
    "child": "children under 16 years",
    "neonate": "newborns to 28 days",
}
SPOKEN: Final = {
    "age_years": "age",
    "weight_kg": "weight",
    "rate_ml_h": "rate of the order",
    "volume_ml": "volume of the order",
    "urine_ml_h": "urine each hour",
    "egfr": "eGFR",
    "ph": "pH",
    "calcium_ionised": "ionised calcium",
    "height_cm": "height",
    "lumen": "the line it runs on",
    "fluid": "the fluid",
    "inr": "INR",
    "pco2": "carbon dioxide",
    "calcium_total": "total calcium",
}


@dataclass(frozen=True, slots=True)
class LimitText:
    """One limit as a person reads it. changed: the hospital uses another value than shipped."""

    name: str
    meaning: str
    value: str
    shipped: str
    changed: bool
    source: str


@dataclass(frozen=True, slots=True)
class SourceText:
    """One source as a person reads it, and whether its text was seen."""

    text: str
    seen: str


@dataclass(frozen=True, slots=True)
class RuleText:
    """Everything a reference page says of one rule, as text."""

    id: str
    title: str
    whom: str
    levels: tuple[Level, ...]
    trigger: str
    unless: str
    do: str
    evidence: str
    needs: tuple[str, ...]
    limits: tuple[LimitText, ...]
    sources: tuple[SourceText, ...]
    status: str


def described(rule: Rule, in_force: Limits | None = None) -> RuleText:
    """The rule as reference text, with the limits in force where they are given."""
    return RuleText(
        id=rule.id,
        title=rule.title,
        whom=WHOM[rule.population],
        levels=rule.levels,
        trigger=rule.trigger,
        unless=rule.unless,
        do=rule.do,
        evidence=rule.evidence,
        needs=tuple(need_text(need) for need in rule.needs),
        limits=tuple(_limit_text(limit, rule, in_force or {}) for limit in rule.limits),
        sources=tuple(source_text(source) for source in rule.sources),
        status=rule.status,
    )


def own_limits_first(rule: Rule, limits: Limits) -> str:
    """What stands before a rule's advice where the unit has limits of its own; else empty.

    The advice names figures of the release: "10 mmol/h at most" would contradict a unit that
    allows 8.
    """
    own = [
        f"{text.meaning} {text.value}, where the release has {text.shipped}"
        for text in (_limit_text(limit, rule, limits) for limit in rule.limits)
        if text.changed
    ]
    if not own:
        return ""
    are = "This unit’s own limit counts" if len(own) == 1 else "This unit’s own limits count"
    return f"{are}: {'; '.join(own)}."


def need_text(need: str) -> str:
    """An input's name as people say it: "weight_kg" is "weight"."""
    return SPOKEN.get(need, need.replace("_", " "))


def source_text(source: Source) -> SourceText:
    """Work, place and note in one line; a rule of practice says that it has no source."""
    if source.work == NO_SOURCE:
        return SourceText(NO_SOURCE, NO_SOURCE)
    parts = [part for part in (source.work, source.place, source.note) if part]
    return SourceText(", ".join(parts), SEEN if source.seen else FROM_MEMORY)


def _limit_text(limit: Limit, rule: Rule, in_force: Limits) -> LimitText:
    value = in_force.get(limit.name, limit.value)
    source = source_text(limit.source or rule.sources[0])
    return LimitText(
        name=limit.name,
        meaning=limit.meaning or limit.name.replace("_", " "),
        value=f"{number(value)} {limit.unit}",
        shipped=f"{number(limit.value)} {limit.unit}",
        changed=value != limit.value,
        source=source.text if source.seen == NO_SOURCE else f"{source.text} ({source.seen})",
    )
