"""What a what-if shows once there is a bag, a volume and a time: pictures, tables, words."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import timedelta
from typing import Final
from urllib.parse import urlencode

from app.cautions.rule import Limits
from app.physiology.course.body import Assumed, Subject
from app.physiology.course.course import Course, course_of
from app.physiology.course.loads import Loss
from app.web.pictures.curves import Curve
from app.web.prediction.asked import Asked, Bag
from app.web.prediction.panels import QUANTITIES, Panel, Quantity, curves_of, panel_of
from app.web.prediction.person import Person
from app.web.prediction.sodium import (
    WHY_BOTH,
    DayLimits,
    Formula,
    day_limits,
    formulas,
    meeting_words,
    next_sample,
)
from app.web.prediction.truth import truth_of
from app.web.show import amount, duration, name_text, number

MINUTES_PER_HOUR: Final = 60.0
ML_PER_L: Final = 1000.0
SODIUM: Final = "sodium"
# How finely to look, min, when looking ahead so far, h: each time that is told is a step.
STEPS: Final = ((4.0, 5.0), (12.0, 10.0), (24.0, 15.0))


@dataclass(frozen=True, slots=True)
class Given:
    """One bag in words, what it brings, and the address that checks it as an order."""

    mark: str
    words: str
    pace: str
    check: str


@dataclass(frozen=True, slots=True)
class SodiumWords:
    """What stands beside the picture of sodium."""

    limits: DayLimits
    meets: tuple[str, ...]
    again: str
    formulas: tuple[Formula, ...]
    why_both: str = WHY_BOTH


@dataclass(frozen=True, slots=True)
class Outlook:
    """The answer to one what-if."""

    given: tuple[Given, ...]
    panels: tuple[Panel, ...]
    sodium: SodiumWords
    losses: str
    assumed: tuple[str, ...]
    not_modelled: tuple[str, ...]
    interval: str


def outlook_of(asked: Asked, person: Person, limits: Mapping[str, Limits]) -> Outlook | None:
    """The answer, or None while a bag, volume or time is wanting.

    limits: those in force, by rule. Raises BaselineError for results that cannot be together.
    """
    volume_ml, minutes = asked.volume_ml, asked.minutes
    if not asked.bags or volume_ml is None or minutes is None:
        return None
    subject = person.subject()
    courses = {bag.mark: _course(bag, asked, person, subject) for bag in asked.bags}
    measured = person.measured
    day = day_limits(subject, measured.get(SODIUM, ()), limits)
    sodium = curves_of(QUANTITIES[0], courses)
    first = next(iter(courses.values()))
    return Outlook(
        given=tuple(_given(bag, asked) for bag in asked.bags),
        panels=tuple(
            _panel(q, courses, person, day, truth_of(q.key, asked.bags, volume_ml, subject))
            for q in QUANTITIES
        ),
        sodium=SodiumWords(
            limits=day,
            meets=meeting_words(sodium, day),
            again=next_sample(subject, sodium, day),
            formulas=formulas(asked.bags, volume_ml, subject),
        ),
        losses=_losses_words(person),
        assumed=tuple(map(assumed_words, subject.assumed)),
        not_modelled=first.not_modelled,
        interval=first.interval,
    )


def _course(bag: Bag, asked: Asked, person: Person, subject: Subject) -> Course:
    step = next(s for up_to_h, s in STEPS if asked.horizon_h <= up_to_h)
    return course_of(
        subject,
        (bag.load(asked.volume_ml or 0.0, asked.minutes or 0.0),),
        () if person.urine_ml_h is None else (Loss("urine", person.urine_ml_h),),
        horizon_min=asked.horizon_h * MINUTES_PER_HOUR,
        step_min=step,
    )


def _panel(
    quantity: Quantity,
    courses: Mapping[str, Course],
    person: Person,
    day: DayLimits,
    truth: str,
) -> Panel:
    curves: tuple[Curve, ...] = curves_of(quantity, courses)
    bounds = day.bounds if quantity.result == SODIUM else ()
    return panel_of(quantity, curves, person.measured.get(quantity.result, ()), bounds, truth)


def _given(bag: Bag, asked: Asked) -> Given:
    volume_ml, rate = asked.volume_ml or 0.0, asked.rate_ml_h or 0.0
    takes = duration(timedelta(minutes=round(asked.minutes or 0.0)))
    potassium = bag.mix(volume_ml).potassium_mmol_l * rate / ML_PER_L
    brings = f"; potassium {number(potassium)} mmol/h" if potassium else ""
    return Given(
        mark=bag.mark,
        words=bag.called,
        pace=f"{amount(volume_ml, 'mL')} over {takes}, {amount(rate, 'mL/h')}{brings}",
        check=_check(bag, asked),
    )


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


def _losses_words(person: Person) -> str:
    if person.urine_ml_h is None:
        return (
            "Urine is not counted: kidneys are taken to pass excess as in health. Type it to count."
        )
    return f"Urine is counted as {amount(person.urine_ml_h, 'mL/h')} throughout."
