"""What a what-if shows once there is a bag, a volume and a time: pictures, tables, words."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType
from typing import Final

from app.cautions.rule import Limits
from app.physiology.course.body import Assumed, Subject
from app.physiology.course.course import Course, course_of
from app.physiology.course.loads import Load
from app.review.predict.notes import too_fast
from app.review.running.loads import Running
from app.web.prediction.asked import MINUTES_PER_HOUR, Asked, Bag
from app.web.prediction.bag.acid_base import AcidBase, acid_base_words
from app.web.prediction.bag.concerns import concerns
from app.web.prediction.bag.potassium import PotassiumWords, potassium_words
from app.web.prediction.bag.vein import VeinLine, vein_lines
from app.web.prediction.by_hand import ByHand, by_hand
from app.web.prediction.glance import Given as Looked
from app.web.prediction.glance import Glance, glance
from app.web.prediction.losses import losses_of, losses_words
from app.web.prediction.panels import QUANTITIES, Panel
from app.web.prediction.person import Person
from app.web.prediction.sodium.limits import DayLimits, aim_of, day_limits
from app.web.prediction.sodium.ways import Trial
from app.web.prediction.sodium.words import SodiumWords, sodium_of
from app.web.prediction.start.bolus import bolus_ml, look_again
from app.web.prediction.start.drawn import Tried, begins_with, lethal_words, panels_of
from app.web.prediction.start.given import Given, given_of, then_words
from app.web.prediction.start.line import line_words
from app.web.prediction.start.standing import (
    NOTHING_ASKED,
    Asking,
    Standing,
    basis_words,
    unpredicted_words,
)
from app.web.prediction.start.wall import Wall, wall_of
from app.web.prediction.truth import untried_words
from app.web.show import amount, name_text

# How finely to look, min, when looking ahead so far, h, so that it is quick to redraw; and when
# besides: as a bolus goes in, and wherever a figure is told.
STEPS: Final = ((4.0, 5.0), (12.0, 10.0), (24.0, 20.0))
ALSO_MIN: Final = (5.0, 10.0, 15.0, 30.0, 60.0, 120.0, 240.0, 480.0, 720.0)
NOTHING_ELSE: Final = Running()
NAMES: Final = MappingProxyType({quantity.key: quantity.name for quantity in QUANTITIES})


@dataclass(frozen=True, slots=True)
class Outlook:
    """The answer to one what-if.

    untried: the quantities of which no trial was like this, said once. beside: what else runs and
    is counted, and what is not. then: what follows the bag, in words; empty for nothing. basis:
    what is typed or on record, and what is assumed. unpredicted: what is not drawn, and why.
    begins: what each series begins with. look_again: when, after a bolus; empty for none. lethal:
    states that nobody lives in. line: what is read aloud.
    """

    given: tuple[Given, ...]
    panels: tuple[Panel, ...]
    sodium: SodiumWords
    losses: str
    assumed: tuple[str, ...]
    not_modelled: tuple[str, ...]
    interval: str
    glance: Glance
    acid_base: tuple[AcidBase, ...]
    potassium: PotassiumWords | None
    vein: tuple[VeinLine, ...]
    by_hand: ByHand
    untried: str = ""
    beside: Running = NOTHING_ELSE
    then: str = ""
    basis: str = ""
    unpredicted: tuple[str, ...] = ()
    begins: Mapping[str, Standing] = field(default_factory=lambda: MappingProxyType({}))
    look_again: str = ""
    lethal: tuple[str, ...] = ()
    wall: Wall | None = None
    line: tuple[str, ...] = ()
    concerns: tuple[str, ...] = ()


def outlook_of(
    asked: Asked,
    person: Person,
    limits: Mapping[str, Limits],
    beside: Running = NOTHING_ELSE,
    asking: Asking = NOTHING_ASKED,
) -> Outlook | None:
    """The answer, or None while a bag, volume or time is wanting.

    limits: those in force, by rule. beside: what else runs. asking: what rules ask for and lack.
    Raises BaselineError for results that cannot be together.
    """
    if not asked.bags or asked.volume_ml is None or asked.minutes is None:
        return None
    subject = person.subject()
    courses = {bag.mark: _course(bag, asked, person, subject, beside) for bag in asked.bags}
    begins = begins_with(person, subject, courses, asking)
    return _told(Tried(asked, person, subject, courses, begins), limits, beside, asking)


def _told(tried: Tried, limits: Mapping[str, Limits], beside: Running, asking: Asking) -> Outlook:
    """What the bags do, in pictures, tables and words."""
    asked, person, subject, courses = tried.asked, tried.person, tried.subject, tried.courses
    volume_ml, minutes = asked.volume_ml or 0.0, asked.minutes or 0.0
    day = day_limits(person, subject.sodium_mmol_l, limits)
    trial = Trial(asked, person, subject, courses, _others(asked, beside))
    sodium = sodium_of(trial, limits, asking.warned)
    first = next(iter(courses.values()))
    bolus = bolus_ml(volume_ml, minutes, subject)
    told = Outlook(
        given=tuple(given_of(bag, asked) for bag in asked.bags),
        panels=panels_of(tried, day, sodium.lines),
        sodium=sodium,
        losses=losses_words(asked, person, beside),
        assumed=tuple(map(assumed_words, subject.assumed)),
        not_modelled=first.not_modelled,
        interval=first.interval,
        glance=glance(courses, Looked(minutes, tried.begins, bolus)),
        acid_base=tuple(
            acid_base_words(bag, volume_ml, minutes, subject, courses[bag.mark])
            for bag in asked.bags
        ),
        potassium=potassium_words(asked.bags, volume_ml, minutes, (person, subject), limits),
        vein=vein_lines(asked.bags, volume_ml, limits),
        by_hand=_worked(tried, beside, day),
        look_again=look_again(subject, person) if bolus else "",
    )
    return _with_start(told, tried, beside)


def _with_start(told: Outlook, tried: Tried, beside: Running) -> Outlook:
    """With what all of it begins with, what is left out, and what is read first."""
    insulin = any(load.insulin_units for load in _others(tried.asked, beside))
    return replace(
        told,
        not_modelled=(*_too_fast(tried, beside), *told.not_modelled),
        untried=_untried(tried),
        beside=beside,
        then=then_words(tried.asked),
        basis=basis_words(tried.person, tried.begins, NAMES),
        unpredicted=unpredicted_words(NAMES, tried.begins),
        begins=tried.begins,
        lethal=tuple(lethal_words(tried.courses, NAMES)),
        wall=wall_of(tried),
        concerns=concerns(tried.person, tried.asked.bags, tried.asked.volume_ml or 0.0),
        line=line_words(tried, told.sodium, told.potassium, insulin=insulin),
    )


def _untried(tried: Tried) -> str:
    """The quantities drawn of which no trial was like this."""
    named = tuple(
        (q.key, q.name if q.name == "pH" else q.name.lower())
        for q in QUANTITIES
        if not tried.begins[q.key].why_none
    )
    asked = tried.asked
    return untried_words(named, asked.bags, asked.volume_ml or 0.0, tried.subject)


def _too_fast(tried: Tried, beside: Running) -> tuple[str, ...]:
    """What runs too fast to be told of, said once."""
    asked, others = tried.asked, _others(tried.asked, beside)
    volume_ml, minutes = asked.volume_ml or 0.0, asked.minutes or 0.0
    loads = ((bag.load(volume_ml, minutes), *others) for bag in asked.bags)
    weight_kg = tried.subject.weight_kg
    return next(filter(None, (too_fast(some, weight_kg) for some in loads)), ())


def _course(bag: Bag, asked: Asked, person: Person, subject: Subject, beside: Running) -> Course:
    minutes = asked.minutes or 0.0
    return course_of(
        subject,
        (bag.load(asked.volume_ml or 0.0, minutes), *_others(asked, beside)),
        losses_of(asked, person),
        horizon_min=asked.horizon_h * MINUTES_PER_HOUR,
        step_min=step_min(asked.horizon_h),
        responding_pco2=person.responds,
        also_min=(*ALSO_MIN, minutes, *(() if asked.then is None else (_then_ends(asked),))),
    )


def _then_ends(asked: Asked) -> float:
    """When what follows is in, min."""
    return (asked.minutes or 0.0) + (0.0 if asked.then is None else asked.then.minutes)


def _others(asked: Asked, beside: Running) -> tuple[Load, ...]:
    """What runs besides the bag, and after it."""
    insulin = asked.insulin_load()
    loads = beside.loads if insulin is None else (*beside.loads, insulin)
    return loads if asked.then is None else (*loads, asked.then.load(asked.minutes or 0.0))


def _worked(tried: Tried, beside: Running, day: DayLimits) -> ByHand:
    """The published formulas beside the curves, with all that these count."""
    asked, person = tried.asked, tried.person
    return by_hand(
        asked.bags,
        asked.volume_ml or 0.0,
        asked.minutes or 0.0,
        person,
        tried.subject,
        tried.courses,
        beside=_others(asked, beside),
        losses=losses_of(asked, person),
        aim=aim_of(day),
    )


def step_min(horizon_h: float) -> float:
    """How finely to look, min."""
    return next(step for up_to_h, step in STEPS if horizon_h <= up_to_h)


def assumed_words(one: Assumed) -> str:
    """An assumption in words: "chloride 104 mmol/L (a usual value)"."""
    why = one.why.removeprefix(f"no {one.name}: ").replace("pCO2", "pCO₂")
    value = amount(one.value, one.unit)
    return f"{name_text(one.name)} {value} ({why})"
