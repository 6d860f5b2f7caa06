"""Potassium in words: how much each hour, how strong, against the limits of the unit, and when it
is measured again.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import timedelta
from typing import Final

from app.catalogue.fluid import ML_PER_L
from app.cautions.rule import Limits
from app.patient.snapshot import ADULT_FROM_YEARS
from app.physiology.course.body import Subject
from app.physiology.potassium import BALANCED_AT_MOST_MMOL_L
from app.web.prediction.asked import MINUTES_PER_HOUR, Bag
from app.web.prediction.person import Person
from app.web.show import duration, number

RATE_RULE: Final = "k-rate"
VEIN_RULE: Final = "line-kcl-peripheral"
HIGH_RULE: Final = "k-hyper"
LOW_RULE: Final = "k-renal"


@dataclass(frozen=True, slots=True)
class PotassiumWords:
    """lines: a sentence a bag. again: empty where no next sample is asked for."""

    lines: tuple[str, ...]
    by_hour: str
    by_vein: str
    again: str


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
    again = _again(max(hourly.values()), person, subject, limits)
    if max(strengths.values()) <= (0 if again else BALANCED_AT_MOST_MMOL_L):
        return None
    return PotassiumWords(
        lines=tuple(
            _line(mark if len(bags) > 1 else "", strengths[mark], hourly[mark], subject.weight_kg)
            for mark in strengths
        ),
        by_hour=_by_hour(person, subject, limits[RATE_RULE]),
        by_vein=_by_vein(limits[VEIN_RULE]),
        again=again,
    )


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
    if mmol_h > usual:
        hours, why = rate["sample_h"], "faster than usual"
    elif not low <= subject.potassium_mmol_l < high:
        hours, why = rate["sample_far_h"], f"it is {number(subject.potassium_mmol_l)} mmol/L"
    else:
        return ""
    return f"Potassium again in {duration(timedelta(hours=hours))}: {why}."
