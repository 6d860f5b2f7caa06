"""The short prediction: the few curves that matter, a table of them, and what was assumed."""

import re
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Final

from app.cautions.phrases import lowered
from app.physiology.course.body import ADULT_KG
from app.physiology.course.loads import Load
from app.review.knowledge import Knowledge
from app.review.workflow import Bedside
from app.web.ahead.address import whole_of
from app.web.ahead.chosen import chosen
from app.web.comparison.cautions import FluidCautions
from app.web.errors import FieldFault
from app.web.predict import WhatIfPage, what_if_page
from app.web.prediction.asked import Asked
from app.web.prediction.fields import LEFT_OUT, LOSS_NUMBERS
from app.web.prediction.glance import GlanceRow
from app.web.prediction.outlook import Outlook
from app.web.prediction.panels import Panel
from app.web.prediction.person import person_of
from app.web.prediction.sodium.limits import HOURS_PER_DAY, day_limits
from app.web.prediction.truth import untried_words
from app.web.show import amount, capital, count

PLACE: Final = "ahead"
PLACES: Final = re.compile(r"ahead(-[a-z0-9][a-z0-9-]{0,40})?")
NEEDED: Final = FieldFault("Fluid A", "nothing", "a fluid of the list, with a volume and a rate")
NOBODY: Final = "An adult of {} with usual results"
TYPED: Final = "The figures as typed"
NONE: Final = "Nothing else is on record to run."
OF_A_PERSON: Final = frozenset({"age", "height", *LOSS_NUMBERS})


@dataclass(frozen=True, slots=True)
class Drawn:
    """One picture, and why it is among the few."""

    panel: Panel
    why: str


@dataclass(frozen=True, slots=True)
class AheadPage:
    """All that is shown. place: the id of the part. whole: the address of the whole prediction.

    of: whom it is for. beside: what else runs and is counted, in a few words. outlook: None where
    there are faults. rows: of the table, those that are drawn. sodium: how it stands to
    the limits of a day. again: when what is measured again. untried: of what is drawn, that of
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
    sodium: str
    again: tuple[str, ...]
    untried: str
    unused: tuple[str, ...]
    cautions: tuple[FluidCautions, ...]


def ahead_page(
    asked: Asked, bedside: Bedside | None, knowledge: Knowledge, place: str = PLACE
) -> AheadPage:
    """The short prediction of what was asked for the patient found, or for figures as typed."""
    asked = _for_a_day(asked, bedside, knowledge)
    page = what_if_page(asked, bedside, (), knowledge)
    faults = page.faults if page.outlook or page.faults else (NEEDED,)
    told = NOTHING if page.outlook is None else _told(page.outlook, page.asked, bedside)
    return AheadPage(
        place=place if PLACES.fullmatch(place) else PLACE,
        whole=whole_of(asked.typed),
        of=_of(page),
        beside="" if page.outlook is None else _beside(page, page.outlook),
        faults=faults,
        outlook=page.outlook,
        drawn=told.drawn,
        rows=told.rows,
        sodium=told.sodium,
        again=told.again,
        untried=told.untried,
        unused=page.unused,
        cautions=page.cautions,
    )


def _for_a_day(asked: Asked, bedside: Bedside | None, knowledge: Knowledge) -> Asked:
    """A whole day ahead where sodium has limits of a day: within them for less says too much."""
    person = person_of(asked, bedside)
    sodium = person.results.get("sodium")
    if sodium is None or not day_limits(person, sodium, knowledge.ruleset.limits).names:
        return asked
    typed = MappingProxyType({**asked.typed, "horizon": f"{HOURS_PER_DAY:g}"})
    return replace(asked, horizon_h=HOURS_PER_DAY, typed=typed)


@dataclass(frozen=True, slots=True)
class _Told:
    """What of a prediction is told in short."""

    drawn: tuple[Drawn, ...] = ()
    rows: tuple[GlanceRow, ...] = ()
    sodium: str = ""
    again: tuple[str, ...] = ()
    untried: str = ""


NOTHING: Final = _Told()


def _told(outlook: Outlook, asked: Asked, bedside: Bedside | None) -> _Told:
    """The few that matter of the quantities, in the same order everywhere."""
    person = person_of(asked, bedside)
    subject = person.subject()
    choices = chosen(subject, (*_bags(asked), *outlook.beside.loads), person.results)
    panels = {panel.key: panel for panel in outlook.panels}
    rows = {row.name: row for row in outlook.glance.rows}
    drawn = tuple(Drawn(panels[one.key], one.why) for one in choices)
    named = [(one.panel.key, lowered(one.panel.name)) for one in drawn]
    potassium = "" if outlook.potassium is None else outlook.potassium.again
    return _Told(
        drawn=drawn,
        rows=tuple(rows[one.panel.name] for one in drawn),
        sodium=_of_sodium(outlook.sodium.leads),
        again=tuple(line for line in (outlook.sodium.again, potassium) if line),
        untried=untried_words(named, asked.bags, asked.volume_ml or 0.0, subject),
    )


def _of_sodium(leads: tuple[str, ...]) -> str:
    """What is said first of sodium, where no heading says of what."""
    if not leads:
        return ""
    first, *rest = leads
    if first.startswith("It "):
        first = f"Sodium {first.removeprefix('It ')}"
    elif not first.startswith("Sodium"):
        first = f"Sodium: {first}"
    return " ".join((first, *rest))


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
    if asked.results or asked.conditions or asked.values.keys() & OF_A_PERSON:
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
