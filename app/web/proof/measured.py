"""How good the review is on the panel's cases, and where it fails."""

from dataclasses import dataclass
from functools import cache
from math import floor
from typing import Final

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from app.cautions.registry import RULE_BY_ID
from app.cautions.rule import LEVELS
from app.review.knowledge import Knowledge
from app.review.measured.report import FirstMet, Measured, Part, Share, Wrong, measured_from
from app.review.receipts.versions import versions_of
from app.storage.seed_files import SEED_DATA, read_toml
from app.web.render import render
from app.web.show import capital, count, number

router: Final = APIRouter(include_in_schema=False)
PER_CENT: Final = 100
GROUPS: Final = {
    "problem": ("Problems", "something is wrong and must be said"),
    "look-alike": ("Look-alikes", "sound, though a crude rule would speak"),
    "sound": ("Sound orders", "nothing loud may be said"),
    "messy": ("Messy data", "missing, doubtful or badly written"),
}
MEMBERS: Final = {"nurse": "Charge nurse", "emergency": "Emergency physician"}
PARTS: Final = {
    "program": "the program itself",
    "ruleset": "rules or limits",
    "catalogue": "fluids",
    "vocabulary": "words",
    "pairs": "pairs in one line",
    "vehicles": "what drugs come in",
}


@dataclass(frozen=True, slots=True)
class ShareView:
    """So many of so many, as text; share and range are empty of nothing."""

    counted: str
    share: str = ""
    between: str = ""


@dataclass(frozen=True, slots=True)
class PartView:
    """One row: some of the cases."""

    name: str
    note: str
    right: ShareView
    critical: ShareView
    warning: ShareView
    quiet: ShareView
    alarmed: int


@dataclass(frozen=True, slots=True)
class AlarmView:
    """A rule that was loud for nothing. known: it has a page."""

    rule_id: str
    title: str
    cases: str
    known: bool


@dataclass(frozen=True, slots=True)
class FirstView:
    """One row: a panel's cases as they were first met."""

    panel: str
    day: str
    cases: int
    critical: ShareView
    warning: ShareView
    quiet: ShareView


@dataclass(frozen=True, slots=True)
class MeasuredPage:
    """The report. differs: what is in force here and was not when it was measured."""

    day: str
    cases: int
    ruleset: str
    in_force: str
    differs: str
    first_met: tuple[FirstView, ...]
    levels: tuple[tuple[str, ShareView], ...]
    whole: PartView
    groups: tuple[PartView, ...]
    members: tuple[PartView, ...]
    alarms: tuple[AlarmView, ...]
    wrong: tuple[Wrong, ...]


@router.get("/rules/measured")
def show_measured(request: Request) -> HTMLResponse:
    """How good the review is."""
    view = measured_page(shipped(), request.app.state.knowledge)
    return render(request, "rules/measured.html", view)


@cache
def shipped() -> Measured:
    """The report that came with this release."""
    return measured_from(read_toml(SEED_DATA / "measured.toml"))


def measured_page(report: Measured, knowledge: Knowledge) -> MeasuredPage:
    """The report beside what is in force here."""
    here = versions_of(knowledge)
    differs = [
        PARTS.get(part, part)
        for part, version in here.items()
        if report.versions.get(part) != version
    ]
    return MeasuredPage(
        day=report.day,
        cases=report.whole.right.of,
        ruleset=report.versions["ruleset"],
        in_force=here["ruleset"],
        differs=", ".join(differs),
        first_met=tuple(map(_first, report.first_met)),
        levels=tuple((level, share_view(report.whole.found[level])) for level in LEVELS),
        whole=_part(report.whole, "All cases"),
        groups=tuple(_part(part, *GROUPS[part.name]) for part in report.groups),
        members=tuple(
            _part(part, MEMBERS.get(part.name, capital(part.name.replace("_", " "))))
            for part in report.members
        ),
        alarms=tuple(_alarm(rule, cases) for rule, cases in report.false_alarms),
        wrong=report.wrong,
    )


def share_view(share: Share) -> ShareView:
    """So many of so many, the share, and the range the true share likely lies in."""
    if share.fraction is None or share.interval is None:
        return ShareView("none asked")
    low, high = (number(end * PER_CENT, 0) for end in share.interval)
    return ShareView(
        f"{share.hit} of {share.of}",
        # Cut and not rounded: 204 of 205 is not all.
        f"{floor(share.fraction * PER_CENT)}%",
        f"{low} to {high}%",
    )


def _part(part: Part, name: str, note: str = "") -> PartView:
    return PartView(
        name=name,
        note=note,
        right=share_view(part.right),
        critical=share_view(part.found["critical"]),
        warning=share_view(part.found["warning"]),
        quiet=share_view(part.quiet),
        alarmed=part.alarmed,
    )


def _first(one: FirstMet) -> FirstView:
    shares = map(share_view, (one.critical, one.warning, one.quiet))
    return FirstView(one.panel, one.day, one.cases, *shares)


def _alarm(rule_id: str, cases: int) -> AlarmView:
    rule = RULE_BY_ID.get(rule_id)
    return AlarmView(rule_id, rule.title if rule else rule_id, count(cases, "case"), bool(rule))
