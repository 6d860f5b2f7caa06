"""What many scored cases come to: how much is found, how often it is loud for nothing."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import sqrt
from typing import Any, Final

from app.cautions.rule import LEVELS
from app.review.measured.score import GROUPS, Scored

# Two-sided 95 % of the normal distribution, for Wilson's interval (Wilson 1927, from memory).
Z_95: Final = 1.96


@dataclass(frozen=True, slots=True)
class Share:
    """So many of so many."""

    hit: int
    of: int

    @property
    def fraction(self) -> float | None:
        """From 0 to 1; None of nothing."""
        return self.hit / self.of if self.of else None

    @property
    def interval(self) -> tuple[float, float] | None:
        """Wilson's 95 % interval of the fraction, as if the cases were drawn at random."""
        if not self.of:
            return None
        share, spread = self.hit / self.of, Z_95**2 / self.of
        middle = share + spread / 2
        half = Z_95 * sqrt((share * (1 - share) + spread / 4) / self.of)
        return (middle - half) / (1 + spread), (middle + half) / (1 + spread)


@dataclass(frozen=True, slots=True)
class Part:
    """Some of the cases. right: those said as wanted. found: by level, wants met of all wants.

    quiet: cases kept quiet of those where nothing loud may be said. alarmed: cases with a false
    alarm.
    """

    name: str
    right: Share
    found: Mapping[str, Share]
    quiet: Share
    alarmed: int


@dataclass(frozen=True, slots=True)
class Wrong:
    """A case not said as wanted: what was missed, which rules were loud for nothing."""

    case: str
    title: str
    group: str
    member: str
    missed: tuple[str, ...]
    false_alarms: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FirstMet:
    """What was reached on a panel's cases the first time they were run, before anything was
    mended for them.
    """

    panel: str
    day: str
    cases: int
    critical: Share
    warning: Share
    quiet: Share


@dataclass(frozen=True, slots=True)
class Measured:
    """The whole report. day: when it was made. versions: of all that the reviews were made with.
    first_met: the panels in the order they were met.
    """

    day: str
    versions: Mapping[str, str]
    whole: Part
    groups: tuple[Part, ...]
    members: tuple[Part, ...]
    false_alarms: tuple[tuple[str, int], ...]
    wrong: tuple[Wrong, ...]
    first_met: tuple[FirstMet, ...] = ()


def measured(results: Sequence[Scored], *, day: str, versions: Mapping[str, str]) -> Measured:
    """What the scored cases come to."""
    members = dict.fromkeys(result.vignette.member for result in results)
    alarms = Counter(rule for result in results for rule in result.false_alarms)
    return Measured(
        day=day,
        versions=versions,
        whole=part_of("all", results),
        groups=tuple(
            part_of(group, [r for r in results if r.vignette.group == group]) for group in GROUPS
        ),
        members=tuple(
            part_of(name, [r for r in results if r.vignette.member == name]) for name in members
        ),
        false_alarms=tuple(sorted(alarms.items(), key=lambda pair: (-pair[1], pair[0]))),
        wrong=tuple(_wrong(result) for result in results if not result.is_right),
    )


def part_of(name: str, results: Sequence[Scored]) -> Part:
    """The figures of some of the cases."""
    wanted = Counter(want.level for r in results for want in r.vignette.wants)
    missed = Counter(want.level for r in results for want in r.missed)
    quiet = [r for r in results if r.vignette.quiet]
    return Part(
        name=name,
        right=Share(sum(r.is_right for r in results), len(results)),
        found={level: Share(wanted[level] - missed[level], wanted[level]) for level in LEVELS},
        quiet=Share(sum(not r.loud for r in quiet), len(quiet)),
        alarmed=sum(bool(r.false_alarms) for r in results),
    )


def _wrong(result: Scored) -> Wrong:
    refused = (f"not reviewed at all: {result.refused}",) if result.refused else ()
    return Wrong(
        case=result.vignette.id,
        title=result.vignette.title,
        group=result.vignette.group,
        member=result.vignette.member,
        missed=(*refused, *map(str, result.missed)),
        false_alarms=tuple(sorted(result.false_alarms)),
    )


def document_of(report: Measured) -> dict[str, Any]:
    """The report as the tables of its TOML file."""
    return {
        "day": report.day,
        "versions": dict(report.versions),
        "whole": _table(report.whole),
        "group": [_table(part) for part in report.groups],
        "member": [_table(part) for part in report.members],
        "false_alarm": [{"rule": rule, "cases": count} for rule, count in report.false_alarms],
        "wrong": [
            {"case": one.case, "title": one.title, "group": one.group, "member": one.member,
             "missed": list(one.missed), "false_alarms": list(one.false_alarms)}
            for one in report.wrong
        ],
        "first_met": [_first_table(one) for one in report.first_met],
    }  # fmt: skip


def _table(part: Part) -> dict[str, Any]:
    shares = {"right": part.right, **part.found, "quiet": part.quiet}
    lists = {name: [share.hit, share.of] for name, share in shares.items()}
    return {"name": part.name, **lists, "alarmed": part.alarmed}


def measured_from(document: Mapping[str, Any]) -> Measured:
    """The report its file holds. Raises KeyError or TypeError for what is no report."""
    return Measured(
        day=document["day"],
        versions=document["versions"],
        whole=_part(document["whole"]),
        groups=tuple(map(_part, document["group"])),
        members=tuple(map(_part, document["member"])),
        false_alarms=tuple((one["rule"], one["cases"]) for one in document.get("false_alarm", ())),
        wrong=tuple(map(_wrong_from, document.get("wrong", ()))),
        first_met=tuple(map(first_met_from, document.get("first_met", ()))),
    )


def _first_table(one: FirstMet) -> dict[str, Any]:
    shares = {"critical": one.critical, "warning": one.warning, "quiet": one.quiet}
    lists = {name: [share.hit, share.of] for name, share in shares.items()}
    return {"panel": one.panel, "day": one.day, "cases": one.cases, **lists}


def first_met_from(table: Mapping[str, Any]) -> FirstMet:
    """What one panel's table holds. Raises KeyError or TypeError for what is none."""
    shares = {name: Share(*table[name]) for name in ("critical", "warning", "quiet")}
    return FirstMet(table["panel"], table["day"], table["cases"], **shares)


def _part(table: Mapping[str, Any]) -> Part:
    return Part(
        name=table["name"],
        right=Share(*table["right"]),
        found={level: Share(*table[level]) for level in LEVELS},
        quiet=Share(*table["quiet"]),
        alarmed=table["alarmed"],
    )


def _wrong_from(table: Mapping[str, Any]) -> Wrong:
    lists: Iterable[str] = ("missed", "false_alarms")
    return Wrong(**{**table, **{name: tuple(table[name]) for name in lists}})
