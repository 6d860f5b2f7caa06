"""What may go wrong with this program, what stands against it, and what is known to be open."""

import json
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, Response

from app.cautions.registry import RULE_BY_ID
from app.review.hazards.hazard import STATE_MEANS, STATES, Control, Hazard, HazardLog, Scale, Step
from app.review.hazards.shipped import shipped_log
from app.web.audit.sheet import csv_lines
from app.web.render import render

router: Final = APIRouter(include_in_schema=False)
COLUMNS: Final = (
    "id", "hazard", "cause", "harm", "severity", "likelihood before", "risk before",
    "likelihood after", "risk after", "controls", "rules", "places", "tests", "owner", "state",
    "what is left",
)  # fmt: skip
UNREVIEWED: Final = "No clinical safety officer has reviewed this log."


@dataclass(frozen=True, slots=True)
class Risk:
    """A risk in words: severity by likelihood, the product, and its band."""

    severity: str
    likelihood: str
    product: int
    band: str


@dataclass(frozen=True, slots=True)
class Stands:
    """A control as the page shows it. kind: what sort; rules: id and title; tests: how many."""

    kind: str
    does: str
    rules: tuple[tuple[str, str], ...]
    place: str
    tests: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class HazardRow:
    """One hazard as the page shows it."""

    id: str
    title: str
    cause: str
    harm: str
    before: Risk
    after: Risk
    owner: str
    state: str
    residual: str
    controls: tuple[Stands, ...]


@dataclass(frozen=True, slots=True)
class HazardsPage:
    """The log by state, the known open ones first, and the scale."""

    rows: tuple[HazardRow, ...]
    open: tuple[HazardRow, ...]
    count: int
    state: str
    states: tuple[tuple[str, str, int], ...]
    scale: Scale
    severity: tuple[Step, ...]
    likelihood: tuple[Step, ...]
    tests: int


@router.get("/hazards")
def show_hazards(request: Request, state: str = "") -> HTMLResponse:
    """The log, or the hazards of one state."""
    view = hazards_page(shipped_log(), state)
    return render(request, "audit/hazards.html", view)


@router.get("/hazards.csv")
def hazards_as_csv() -> Response:
    """The log as a sheet."""
    log = shipped_log()
    lines = csv_lines(COLUMNS, (_cells(hazard) for hazard in log.hazards))
    return _file("".join(lines), "text/csv; charset=utf-8", "hazards.csv")


@router.get("/hazards.json")
def hazards_as_json() -> Response:
    """The log as data, with its scale and what it is worth."""
    log = shipped_log()
    told = {
        "note": UNREVIEWED,
        "scale": {
            "says": log.scale.says,
            "severity": [_step(step) for step in log.scale.severity],
            "likelihood": [_step(step) for step in log.scale.likelihood],
            "bands": [_step(step) for step in log.scale.bands],
        },
        "hazards": [dict(zip(COLUMNS, _cells(hazard), strict=True)) for hazard in log.hazards],
    }
    text = json.dumps(told, ensure_ascii=False, indent=2)
    return _file(text, "application/json", "hazards.json")


def hazards_page(log: HazardLog, state: str = "") -> HazardsPage:
    """Everything on the page. A state that does not exist asks for all."""
    state = state if state in STATES else ""
    rows = tuple(_row(hazard, log.scale) for hazard in log.hazards if state in ("", hazard.state))
    held = [hazard.state for hazard in log.hazards]
    return HazardsPage(
        rows=rows,
        open=tuple(_row(hazard, log.scale) for hazard in log.known_open()),
        count=len(log.hazards),
        state=state,
        states=tuple((each, STATE_MEANS[each], held.count(each)) for each in STATES),
        scale=log.scale,
        severity=log.scale.severity,
        likelihood=log.scale.likelihood,
        tests=len({test for hazard in log.hazards for test in hazard.tests()}),
    )


def _row(hazard: Hazard, scale: Scale) -> HazardRow:
    return HazardRow(
        id=hazard.id,
        title=hazard.title,
        cause=hazard.cause,
        harm=hazard.harm,
        before=_risk(hazard.severity, hazard.before, scale),
        after=_risk(hazard.severity, hazard.after, scale),
        owner=hazard.owner,
        state=hazard.state,
        residual=hazard.residual,
        controls=tuple(map(_stands, hazard.controls)),
    )


def _risk(severity: int, likelihood: int, scale: Scale) -> Risk:
    product = severity * likelihood
    return Risk(
        scale.severity[severity - 1].word, scale.likelihood[likelihood - 1].word, product,
        scale.band(product),
    )  # fmt: skip


def _stands(control: Control) -> Stands:
    kind = f"{control.by} does" if control.by else "rules" if control.rules else "program"
    rules = tuple((rule, RULE_BY_ID[rule].title) for rule in control.rules if rule in RULE_BY_ID)
    return Stands(kind, control.does, rules, control.place, control.tests)


def _cells(hazard: Hazard) -> tuple[str | int, ...]:
    return (
        hazard.id, hazard.title, hazard.cause, hazard.harm, hazard.severity, hazard.before,
        hazard.risk_before, hazard.after, hazard.risk_after,
        "; ".join(_said(hazard)), "; ".join(hazard.rules()),
        "; ".join(control.place for control in hazard.controls if control.place),
        "; ".join(dict.fromkeys(hazard.tests())), hazard.owner, hazard.state, hazard.residual,
    )  # fmt: skip


def _said(hazard: Hazard) -> Iterator[str]:
    for control in hazard.controls:
        yield f"{control.by}: {control.does}" if control.by else control.does


def _step(step: Step) -> dict[str, str | int]:
    return {"step": step.step, "word": step.word, "means": step.means}


def _file(text: str, media: str, name: str) -> Response:
    headers = {"Content-Disposition": f'attachment; filename="{name}"', "Cache-Control": "no-store"}
    return Response(text, media_type=media, headers=headers)
