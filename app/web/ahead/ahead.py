"""The short prediction: the few curves that matter, a table of them, and what was assumed."""

import re
from dataclasses import dataclass, field
from typing import Final

from app.cautions.phrases import lowered
from app.physiology.course.body import ADULT_KG
from app.physiology.course.loads import Load
from app.review.knowledge import Knowledge
from app.review.workflow import Bedside
from app.web.ahead.address import whole_of
from app.web.ahead.chosen import Ahead, chosen
from app.web.comparison.cautions import FluidCautions
from app.web.errors import FieldFault
from app.web.fluids.news import News
from app.web.predict import WhatIfPage, what_if_page
from app.web.prediction.asked import Asked
from app.web.prediction.fields import LEFT_OUT
from app.web.prediction.glance import GlanceRow
from app.web.prediction.outlook import Outlook
from app.web.prediction.panels import Panel
from app.web.prediction.person import person_of
from app.web.prediction.truth import untried_words
from app.web.show import amount, capital, count

PLACE: Final = "ahead"
PLACES: Final = re.compile(r"(ahead|line)(-[a-z0-9][a-z0-9-]{0,40})?")
NEEDED: Final = FieldFault("Fluid A", "nothing", "a fluid of the list, with a volume and a rate")
NOBODY: Final = "Somebody out of a textbook, of {}"
TYPED: Final = "As typed"
NONE: Final = "Nothing else is on record to run."


@dataclass(frozen=True, slots=True)
class Drawn:
    """One picture, and why it is among the few."""

    panel: Panel
    why: str


@dataclass(frozen=True, slots=True)
class AheadPage:
    """All that is shown. place: the id of the part. whole: the address of the whole prediction.

    of: whom it is for. beside: what else runs and is counted, in a few words. outlook: None where
    there are faults. rows: of the table, those that are drawn. untried: of what is drawn, that of
    which no trial was like this.
    """

    place: str
    whole: str
    of: str
    beside: str
    faults: tuple[FieldFault, ...]
    outlook: Outlook | None
    drawn: tuple[Drawn, ...]
    rows: tuple[GlanceRow, ...]
    untried: str
    unused: tuple[str, ...]
    cautions: tuple[FluidCautions, ...]
    news: News = field(default_factory=News)


def ahead_page(
    asked: Asked, bedside: Bedside | None, knowledge: Knowledge, place: str = PLACE
) -> AheadPage:
    """The short prediction of what was asked for the patient found, or for figures as typed."""
    page = what_if_page(asked, bedside, (), knowledge)
    faults = page.faults if page.outlook or page.faults else (NEEDED,)
    told = NOTHING if page.outlook is None else _told(page.outlook, page.asked, bedside)
    return AheadPage(
        place=place if PLACES.fullmatch(place) else PLACE,
        whole=whole_of(page.asked.typed),
        of=_of(page),
        beside="" if page.outlook is None else _beside(page, page.outlook),
        faults=faults,
        outlook=page.outlook,
        drawn=told.drawn,
        rows=told.rows,
        untried=told.untried,
        unused=page.unused,
        cautions=page.cautions,
    )


@dataclass(frozen=True, slots=True)
class _Told:
    """What of a prediction is told in short."""

    drawn: tuple[Drawn, ...] = ()
    rows: tuple[GlanceRow, ...] = ()
    untried: str = ""


NOTHING: Final = _Told()


def _told(outlook: Outlook, asked: Asked, bedside: Bedside | None) -> _Told:
    """The few that matter of the quantities."""
    person = person_of(asked, bedside)
    subject = person.subject()
    panels = {panel.key: panel for panel in outlook.panels}
    ahead = Ahead({key: panel.reach for key, panel in panels.items()}, person.results)
    insulin = asked.insulin_load()
    besides = (*outlook.beside.loads, *(() if insulin is None else (insulin,)))
    drawn = tuple(
        Drawn(panels[one.key], one.why) for one in chosen(subject, (*_bags(asked), *besides), ahead)
    )
    rows = {row.name: row for row in outlook.glance.rows}
    still = outlook.glance.still
    named = [(one.panel.key, lowered(one.panel.name)) for one in drawn]
    return _Told(
        drawn=drawn,
        rows=(*(rows[one.panel.name] for one in drawn), *(() if still is None else (still,))),
        untried=untried_words(named, asked.bags, asked.volume_ml or 0.0, subject),
    )


def _bags(asked: Asked) -> tuple[Load, ...]:
    """Every bag that is tried, and what follows it."""
    volume_ml, minutes = asked.volume_ml or 0.0, asked.minutes or 0.0
    bags = tuple(bag.load(volume_ml, minutes) for bag in asked.bags)
    return bags if asked.then is None else (*bags, asked.then.load(minutes))


def _of(page: WhatIfPage) -> str:
    """Whom it is for: the patient; figures as typed; or a usual adult, of the weight typed."""
    asked = page.asked
    if page.patient:
        return page.patient
    if not page.textbook:
        return TYPED
    return NOBODY.format(amount(asked.values.get("weight", ADULT_KG), "kg"))


def _beside(page: WhatIfPage, outlook: Outlook) -> str:
    """What else runs, in a few words; all of it stands below."""
    counted, left = len(outlook.beside.words), len(outlook.beside.not_counted)
    if not page.patient:
        return ""
    if page.asked.is_chosen("others", LEFT_OUT):
        return "By itself: nothing else that runs is counted."
    if not counted:
        verb = "is" if left == 1 else "are"
        return f"{capital(count(left, 'other thing'))} {verb} not counted." if left else NONE
    said = f"With {count(counted, 'other thing')} that {'runs' if counted == 1 else 'run'}"
    return f"{said}; not counted: {left}." if left else f"{said}."
