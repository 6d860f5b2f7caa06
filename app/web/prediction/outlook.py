"""What a what-if shows once there is a bag, a volume and a time: pictures, tables, words."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import timedelta
from typing import Final
from urllib.parse import urlencode

from app.cautions.rule import Limits
from app.physiology.course.body import Assumed, Subject
from app.physiology.course.course import Course, course_of
from app.physiology.course.loads import Load
from app.review.running.loads import Running
from app.web.prediction.asked import MINUTES_PER_HOUR, Asked, Bag
from app.web.prediction.bag.acid_base import AcidBase, acid_base_words
from app.web.prediction.bag.potassium import PotassiumWords, potassium_words
from app.web.prediction.bag.vein import VeinLine, vein_lines
from app.web.prediction.by_hand import ByHand, by_hand
from app.web.prediction.glance import Glance, glance
from app.web.prediction.losses import losses_of, losses_words
from app.web.prediction.panels import QUANTITIES, Panel, curves_of, panel_of
from app.web.prediction.person import Person
from app.web.prediction.sodium.limits import DayLimits, day_limits
from app.web.prediction.sodium.words import SodiumWords, sodium_words
from app.web.prediction.truth import truth_of, untried_words
from app.web.show import amount, capital, duration, name_text, number

ML_PER_L: Final = 1000.0
SODIUM: Final = "sodium"
# How finely to look, min, when looking ahead so far, h: the coarsest that meets the bag's end, so
# that it is quick to redraw and no corner of a curve is cut.
STEPS: Final = ((4.0, (5.0,)), (12.0, (10.0, 7.5, 5.0)), (24.0, (20.0, 15.0, 10.0)))
NOTHING_ELSE: Final = Running()


@dataclass(frozen=True, slots=True)
class Given:
    """One bag in words, what it brings, and the address that checks it as an order."""

    mark: str
    words: str
    pace: str
    check: str


@dataclass(frozen=True, slots=True)
class Outlook:
    """The answer to one what-if.

    untried: the quantities of which no trial was like this, said once. beside: what else runs and
    is counted, and what is not. then: what follows the bag, in words; empty for nothing.
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


def outlook_of(
    asked: Asked,
    person: Person,
    limits: Mapping[str, Limits],
    beside: Running = NOTHING_ELSE,
) -> Outlook | None:
    """The answer, or None while a bag, volume or time is wanting.

    limits: those in force, by rule. beside: what else runs. Raises BaselineError for results that
    cannot be together.
    """
    if not asked.bags or asked.volume_ml is None or asked.minutes is None:
        return None
    subject = person.subject()
    courses = {bag.mark: _course(bag, asked, person, subject, beside) for bag in asked.bags}
    return _told(asked, (person, subject), courses, limits, beside)


def _told(
    asked: Asked,
    whom: tuple[Person, Subject],
    courses: Mapping[str, Course],
    limits: Mapping[str, Limits],
    beside: Running,
) -> Outlook:
    (person, subject), bags = whom, asked.bags
    volume_ml, minutes = asked.volume_ml or 0.0, asked.minutes or 0.0
    day = day_limits(person, subject.sodium_mmol_l, limits)
    first = next(iter(courses.values()))
    named = tuple((q.key, _within(q.name)) for q in QUANTITIES)
    return Outlook(
        given=tuple(_given(bag, asked) for bag in bags),
        panels=_panels(asked, whom, courses, day),
        sodium=sodium_words(person, curves_of(QUANTITIES[0], courses), day),
        losses=losses_words(asked, person, beside),
        assumed=tuple(map(assumed_words, subject.assumed)),
        not_modelled=first.not_modelled,
        interval=first.interval,
        glance=glance(courses, minutes),
        acid_base=tuple(
            acid_base_words(bag, volume_ml, minutes, subject, courses[bag.mark]) for bag in bags
        ),
        potassium=potassium_words(bags, volume_ml, minutes, whom, limits),
        vein=vein_lines(bags, volume_ml, limits),
        by_hand=_worked(asked, whom, courses, beside),
        untried=untried_words(named, bags, volume_ml, subject),
        beside=beside,
        then=_then_words(asked),
    )


def _within(name: str) -> str:
    """A quantity's name inside a sentence."""
    return name if name == "pH" else name.lower()


def _course(bag: Bag, asked: Asked, person: Person, subject: Subject, beside: Running) -> Course:
    minutes = asked.minutes or 0.0
    return course_of(
        subject,
        (bag.load(asked.volume_ml or 0.0, minutes), *_others(asked, beside)),
        losses_of(asked, person),
        horizon_min=asked.horizon_h * MINUTES_PER_HOUR,
        step_min=step_min(asked.horizon_h, minutes),
        responding_pco2=person.responds,
    )


def _others(asked: Asked, beside: Running) -> tuple[Load, ...]:
    """What runs besides the bag, and after it."""
    if asked.then is None:
        return beside.loads
    return (*beside.loads, asked.then.load(asked.minutes or 0.0))


def _worked(
    asked: Asked,
    whom: tuple[Person, Subject],
    courses: Mapping[str, Course],
    beside: Running,
) -> ByHand:
    """The published formulas beside the curves, with all that these count."""
    person, subject = whom
    return by_hand(
        asked.bags,
        asked.volume_ml or 0.0,
        asked.minutes or 0.0,
        person,
        subject,
        courses,
        beside=_others(asked, beside),
        losses=losses_of(asked, person),
    )


def step_min(horizon_h: float, bag_min: float) -> float:
    """How finely to look, min, for a bag of so many minutes."""
    steps = next(steps for up_to_h, steps in STEPS if horizon_h <= up_to_h)
    return next((step for step in steps if not bag_min % step), steps[0])


def _panels(
    asked: Asked, whom: tuple[Person, Subject], courses: Mapping[str, Course], day: DayLimits
) -> tuple[Panel, ...]:
    person, subject = whom
    panels = []
    for quantity in QUANTITIES:
        curves = curves_of(quantity, courses)
        measured = person.measured.get(quantity.result, ())
        bounds = day.bounds() if quantity.result == SODIUM else ()
        panel = panel_of(quantity, curves, measured, bounds)
        ahead = asked.horizon_h * MINUTES_PER_HOUR
        truth = truth_of(quantity.key, asked.bags, asked.volume_ml or 0.0, subject, ahead)
        panels.append(
            replace(
                panel,
                truth=truth.short,
                truth_full=truth.full if truth.full != truth.short else "",
                note=day.why_none if quantity.result == SODIUM else "",
            )
        )
    return tuple(panels)


def _given(bag: Bag, asked: Asked) -> Given:
    pace = _pace_words(bag, asked.volume_ml or 0.0, asked.rate_ml_h or 0.0)
    return Given(mark=bag.mark, words=bag.called, pace=pace, check=_check(bag, asked))


def _pace_words(bag: Bag, volume_ml: float, rate_ml_h: float) -> str:
    """How much over how long, and the potassium that brings each hour."""
    takes = duration(timedelta(minutes=round(volume_ml / rate_ml_h * MINUTES_PER_HOUR)))
    potassium = bag.mix(volume_ml).potassium_mmol_l * rate_ml_h / ML_PER_L
    brings = f"; potassium {number(potassium)} mmol/h" if potassium else ""
    return f"{amount(volume_ml, 'mL')} over {takes}, {amount(rate_ml_h, 'mL/h')}{brings}"


def _then_words(asked: Asked) -> str:
    if asked.then is None:
        return ""
    then = asked.then
    rate = then.volume_ml / then.minutes * MINUTES_PER_HOUR
    pace = _pace_words(then.bag, then.volume_ml, rate)
    return f"{capital(then.bag.called)}, {pace}"


def _check(bag: Bag, asked: Asked) -> str:
    """The order page with this bag written in it."""
    pairs = [
        ("patient", asked.patient), ("fluid", bag.fluid.name),
        ("volume", f"{asked.volume_ml:.6g}"), ("rate", f"{asked.rate_ml_h:.6g}"),
    ]  # fmt: skip
    if bag.potassium_mmol:
        pairs += [("additive", "potassium chloride"), ("amount", f"{bag.potassium_mmol:g}")]
        pairs += [("unit", "mmol")]
    return f"/orders/new?{urlencode([(name, text) for name, text in pairs if text])}"


def assumed_words(one: Assumed) -> str:
    """An assumption in words: "chloride 104 mmol/L (a usual value)"."""
    why = one.why.removeprefix(f"no {one.name}: ")
    return f"{name_text(one.name)} {amount(one.value, one.unit)} ({why})"
