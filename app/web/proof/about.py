"""What this is, what it is not, what it knows, and whose work it stands on."""

from dataclasses import dataclass
from functools import cache
from typing import Final

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from app.cautions.registry import RULES
from app.review.hazards.hazard import Hazard
from app.review.hazards.shipped import shipped_log
from app.review.knowledge import Knowledge
from app.storage.seed_files import read_toml
from app.web.render import STATIC, render
from app.web.show import count

router: Final = APIRouter(include_in_schema=False)
# Open hazards that the page names; the rest are a link away.
GRAVEST: Final = 4

# Subjects of caution by the beginnings of their rules' ids; a subject without a rule is to come.
SUBJECTS: Final = {
    "calcium with blood or ceftriaxone": ("cef", "blood", "ca"),
    "potassium": ("k",),
    "buffers, acid and base": ("buf", "lac", "ace", "bic", "sal"),
    "sodium and water": ("na", "water", "di", "des", "li"),
    "completeness of the order, rates and totals": ("ord",),
    "glucose and insulin": ("glu", "dka"),
    "colloids": ("alb", "gel", "hes"),
    "magnesium and phosphate": ("mg", "phos"),
    "additives and mixing": ("add", "ph"),
    "veins, lines and what shares them": ("line",),
    "shock and adrenal crisis": ("res", "adr"),
    "kidneys, heart and dialysis": ("kid", "hf", "dia"),
    "newborns, pregnancy and burns": ("neo", "preg", "burn"),
    "drugs in their own fluids, and warming": ("drug", "man", "warm", "id"),
}


@dataclass(frozen=True, slots=True)
class Subject:
    """A subject of caution and how many rules speak of it."""

    name: str
    rules: int
    text: str


@dataclass(frozen=True, slots=True)
class Notice:
    """A file of others that we pass on, and its licence."""

    name: str
    version: str
    licence: str
    why: str


@dataclass(frozen=True, slots=True)
class AboutPage:
    """Versions, subjects assessed and not, known open hazards, and licences."""

    program: str
    ruleset: str
    catalogue: str
    fluids: int
    assessed: tuple[Subject, ...]
    to_come: tuple[Subject, ...]
    notices: tuple[Notice, ...]
    hazards: int
    hazards_open: int
    gravest: tuple[Hazard, ...]


@router.get("/about")
def about(request: Request) -> HTMLResponse:
    """The page."""
    return render(
        request, "about/about.html", about_page(request.app.state.knowledge, request.app.version)
    )


def about_page(knowledge: Knowledge, program: str) -> AboutPage:
    """Everything on it."""
    subjects, log = _subjects(), shipped_log()
    known_open = log.known_open()
    return AboutPage(
        program=program,
        ruleset=knowledge.ruleset.version,
        catalogue=knowledge.catalogue.version,
        fluids=len(knowledge.catalogue),
        assessed=tuple(s for s in subjects if s.rules),
        to_come=tuple(s for s in subjects if not s.rules),
        notices=notices(),
        hazards=len(log.hazards),
        hazards_open=len(known_open),
        gravest=known_open[:GRAVEST],
    )


def _subjects() -> tuple[Subject, ...]:
    beginnings = [rule.id.partition("-")[0] for rule in RULES]
    counts = {name: sum(map(beginnings.count, keys)) for name, keys in SUBJECTS.items()}
    return tuple(Subject(name, n, count(n, "rule")) for name, n in counts.items())


@cache
def notices() -> tuple[Notice, ...]:
    """What static/vendor holds."""
    files = read_toml(STATIC / "vendor" / "vendor.toml")["file"]
    return tuple(Notice(f["name"], f["version"], f["licence"], f["why"]) for f in files)
