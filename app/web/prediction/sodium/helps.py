"""What to do: past a limit, when the brain answers, and when sodium is measured again."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from math import floor
from typing import Final

from app.cautions.shared.sodium_limits import next_sample_h
from app.web.prediction.person import Person
from app.web.prediction.sodium.leads import Lead
from app.web.prediction.sodium.limits import DayLimits
from app.web.prediction.sodium.ways import brisk_ml_h, is_young
from app.web.show import clock, duration, number

QUARTER_H: Final = 0.25
LEAST_SAMPLE_H: Final = 0.5
# How long a rescue bolus is followed so closely, h (common practice, no source).
AFTER_BOLUS_H: Final = 12
# Under this a fit is spoken of before anything else, mmol/L (common practice, no source).
FITS_FIRST_MMOL_L: Final = 120.0
# Conditions that may be the brain answering to a low sodium.
BRAIN: Final = ("severe_hyponatraemia_symptoms", "seizure")
EUROPE: Final = "European guideline 2014, from memory"
PAST: Final = "Past the limit"
SHOULD_IT: Final = "If it passes the limit"
RISE_RESCUE: Final = (
    "stop this fluid and tell the senior now. Lowering sodium again, with water or desmopressin, "
    f"is for the senior or a kidney specialist to decide ({EUROPE})."
)
FALL_RESCUE: Final = (
    "stop or slow the water, measure sodium, and tell the senior now (common practice, no source)."
)
RISE_BRAIN: Final = (
    "Fits, vomiting, drowsiness or coma: call for help now. 3% sodium chloride by local policy: "
    "{dose} over 20 min, sodium after each, up to three times; aim for +5 mmol/L, then stop "
    f"({EUROPE})."
)
ADULT_DOSE: Final = "150 mL"
CHILD_DOSE: Final = "2 mL/kg, at most 150 mL,"
FALL_BRAIN: Final = (
    "A fit or drowsiness while sodium falls: stop the water and call for help now; the brain may "
    "be swelling (common practice, no source)."
)


@dataclass(frozen=True, slots=True)
class Bolus:
    """A short bag of strong saline: over so many minutes."""

    minutes: float


def is_past(day: DayLimits) -> bool:
    """True where sodium has passed one of its limits already."""
    return any(day.is_past(name) for name in day.names)


def rescue_words(leads: Sequence[Lead], day: DayLimits) -> str:
    """What to do past the limit itself, not the aim or the lower one before it."""
    do = RISE_RESCUE if day.sign > 0 else FALL_RESCUE
    if not day.names:
        return ""
    if day.is_past(day.names[-1]):
        return f"{PAST}: {do}"
    ahead = any(lead.past == day.names[-1] for lead in leads)
    return f"{SHOULD_IT}: {do}" if ahead else ""


def brain_words(person: Person, day: DayLimits) -> str:
    """What to do when the brain answers: for a sodium so low, or so high and falling, only."""
    far = day.sign * (day.limits["sodium_far_mmol_l"] - day.now_mmol_l) > 0
    if not day.names:
        return ""
    if day.sign < 0:
        return FALL_BRAIN if far else ""
    low = day.now_mmol_l < day.limits["sodium_baseline_mmol_l"]
    if not far and not (low and (day.acute or person.conditions & set(BRAIN))):
        return ""
    return RISE_BRAIN.format(dose=CHILD_DOSE if is_young(person) else ADULT_DOSE)


def urine_words(person: Person, day: DayLimits) -> str:
    """That urine can pass the limit of a rise without the bag, and what to do."""
    if day.sign < 0 or not day.names:
        return ""
    every = duration(timedelta(hours=day.limits["sample_h"]))
    return (
        f"Urine can pass it without the bag. Over {number(brisk_ml_h(person), 0)} mL/h: sodium "
        f"now, and every {every}."
    )


def again_words(person: Person, leads: Sequence[Lead], day: DayLimits, bolus: Bolus | None) -> str:
    """When sodium is measured again; half the way to a limit when that is sooner."""
    if bolus is not None:
        every = duration(timedelta(hours=day.limits["sample_h"]))
        return (
            f"Sodium when the bolus is in ({number(bolus.minutes, 0)} min), before another; then "
            f"every {every} until {AFTER_BOLUS_H} h."
        )
    met = [lead.hours for lead in leads if lead.hours is not None]
    near = bool(met or is_past(day) or any(lead.near for lead in leads))
    hours = next_sample_h(day.now_mmol_l, day.limits, sign=day.sign, near=near)
    if hours is None:
        return ""
    if is_past(day) or 0.0 in met:
        return f"Sodium now and again in {duration(timedelta(hours=hours))}{_clock(person, hours)}."
    if met:
        half = floor(min(met) / 2 / QUARTER_H) * QUARTER_H
        hours = min(hours, max(LEAST_SAMPLE_H, half))
    by = _clock(person, hours)
    return f"Sodium again in {duration(timedelta(hours=hours))}{by}."


def _clock(person: Person, hours: float) -> str:
    """By which time of day; nothing where the figures were only typed."""
    if not person.called or person.snapshot is None:
        return ""
    now: datetime = person.snapshot.now
    return f", by {clock(now + timedelta(hours=hours), now)}"
