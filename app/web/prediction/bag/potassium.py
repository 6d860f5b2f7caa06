"""Potassium in words: how much each hour, how strong, against the limits of the unit, and when it
is measured again.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import timedelta
from typing import Final

from app.catalogue.fluid import ML_PER_L
from app.cautions.phrases import listed
from app.cautions.rule import Limits
from app.patient.snapshot import ADULT_FROM_YEARS
from app.physiology.course.body import Subject, is_scant
from app.physiology.potassium import BALANCED_AT_MOST_MMOL_L
from app.web.prediction.asked import MINUTES_PER_HOUR, Bag
from app.web.prediction.person import Person
from app.web.show import duration, number

RATE_RULE: Final = "k-rate"
VEIN_RULE: Final = "line-kcl-peripheral"
HIGH_RULE: Final = "k-hyper"
LOW_RULE: Final = "k-renal"


# Repeated so soon where it is high and kidneys do not pass it (common practice, no source).
FAILING_AGAIN: Final = "1 to 2 h"
RISING: Final = (
    "Kidneys fail: count on at least {now} mmol/L, and rising. Potassium that the body makes, and "
    "drugs that raise it, are not in the curve; do not count on a fall."
)
DO_NOT_RUN: Final = "Do not run {bags}."


@dataclass(frozen=True, slots=True)
class PotassiumWords:
    """lines: a sentence a bag. again: empty where no next sample is asked for.

    lead: to be read first, where the curve may show less than is to be expected; empty elsewhere.
    """

    lines: tuple[str, ...]
    by_hour: str
    by_vein: str
    again: str
    lead: str = ""


def potassium_words(
    bags: Sequence[Bag],
    volume_ml: float,
    minutes: float,
    whom: tuple[Person, Subject],
    limits: Mapping[str, Limits],
) -> PotassiumWords | None:
    """What the bags bring, each by itself; None where none brings more than a balanced fluid, and
    plasma asks for no next sample.
    """
    person, subject = whom
    rate_ml_h = volume_ml / minutes * MINUTES_PER_HOUR
    strengths = {bag.mark: bag.mix(volume_ml).potassium_mmol_l for bag in bags}
    hourly = {mark: mmol_l * rate_ml_h / ML_PER_L for mark, mmol_l in strengths.items()}
    stays = stays_high(person, subject, limits)
    again = _again(max(hourly.values()), person, subject, limits)
    if max(strengths.values()) <= (0 if again else BALANCED_AT_MOST_MMOL_L) and not stays:
        return None
    return PotassiumWords(
        lines=tuple(
            _line(mark if len(bags) > 1 else "", strengths[mark], hourly[mark], subject.weight_kg)
            for mark in strengths
        ),
        by_hour=_by_hour(person, subject, limits[RATE_RULE]),
        by_vein=_by_vein(limits[VEIN_RULE]),
        again=again,
        lead=_lead(strengths, subject) if stays else "",
    )


def stays_high(person: Person, subject: Subject, limits: Mapping[str, Limits]) -> bool:
    """High potassium that kidneys do not pass: it rises by more than is modelled."""
    passed = person.urine_ml_h
    fails = subject.kidneys_fail or (passed is not None and is_scant(passed, person.weight_kg))
    return fails and subject.potassium_mmol_l >= limits[HIGH_RULE]["potassium_high_mmol_l"]


def _lead(strengths: Mapping[str, float], subject: Subject) -> str:
    salted = [mark for mark, mmol_l in strengths.items() if mmol_l > BALANCED_AT_MOST_MMOL_L]
    rising = RISING.format(now=number(subject.potassium_mmol_l))
    if not salted:
        return rising
    one = "this bag" if len(strengths) == 1 else listed(tuple(salted))
    return f"{DO_NOT_RUN.format(bags=one)} {rising}"


def _line(mark: str, mmol_l: float, mmol_h: float, weight_kg: float) -> str:
    of = f"{mark}: " if mark else ""
    if not mmol_l:
        return f"{of}none."
    by_weight = number(mmol_h / weight_kg, 2)
    return (
        f"{of}{number(mmol_h)} mmol/h, {by_weight} mmol/kg/h, at {number(mmol_l)} mmol/L in the "
        "bag."
    )


def _is_child(person: Person) -> bool:
    return person.age_years is not None and person.age_years < ADULT_FROM_YEARS


def _ceilings(person: Person, subject: Subject, limits: Limits) -> tuple[float, float]:
    """Most each hour without and with ECG monitoring, mmol/h."""
    usual, most = limits["adult_usual_mmol_h"], limits["adult_most_mmol_h"]
    if not _is_child(person):
        return usual, most
    weight_kg = subject.weight_kg
    return (
        min(usual, limits["child_usual_mmol_kg_h"] * weight_kg),
        min(most, limits["child_most_mmol_kg_h"] * weight_kg),
    )


def _by_hour(person: Person, subject: Subject, limits: Limits) -> str:
    usual, most = _ceilings(person, subject, limits)
    return (
        f"at most {number(usual)} mmol/h without ECG monitoring and {number(most)} mmol/h with it, "
        "all sources together"
    )


def _by_vein(limits: Limits) -> str:
    return (
        f"by a peripheral vein at most {number(limits['ward_mmol_l'])} mmol/L on a ward and "
        f"{number(limits['monitored_mmol_l'])} mmol/L with ECG monitoring"
    )


def _again(mmol_h: float, person: Person, subject: Subject, limits: Mapping[str, Limits]) -> str:
    rate = limits[RATE_RULE]
    usual, _ = _ceilings(person, subject, rate)
    low, high = limits[LOW_RULE]["potassium_low_mmol_l"], limits[HIGH_RULE]["potassium_high_mmol_l"]
    is_off = not low <= subject.potassium_mmol_l < high
    it_is = f"it is {number(subject.potassium_mmol_l)} mmol/L"
    if stays_high(person, subject, limits):
        return f"Potassium and ECG now, potassium again in {FAILING_AGAIN}: {it_is}, kidneys fail."
    if mmol_h > usual:
        hours = rate["sample_h"]
        why = f"{it_is}, and this is faster than usual" if is_off else "faster than usual"
    elif is_off:
        hours, why = rate["sample_far_h"], it_is
    else:
        return ""
    return f"Potassium again in {duration(timedelta(hours=hours))}: {why}."
