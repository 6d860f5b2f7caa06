"""What is said of sodium over a day: short enough to be read aloud, with the figure in it."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from math import floor
from typing import Final

from app.cautions.registry import RULE_BY_ID
from app.cautions.shared.sodium_limits import next_sample_h
from app.patient.snapshot import ADULT_FROM_YEARS
from app.web.pictures.curves import Curve
from app.web.prediction.person import Person
from app.web.prediction.sodium.limits import READS_AS_MORE, DayLimits
from app.web.prediction.sodium.reach import Reach, Stand, reach_of, stands
from app.web.show import capital, clock, duration, number

QUARTER_H: Final = 0.25
LEAST_SAMPLE_H: Final = 0.5
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
class LimitText:
    """One limit that counts here: its words, what it is for, and where its value comes from."""

    words: str
    meaning: str
    source: str


@dataclass(frozen=True, slots=True)
class SodiumWords:
    """What stands beside the picture of sodium. leads: the sentences to be read first.

    heads: of the columns of limits in the table. rescue, brain: empty where they do not apply.
    """

    rule_id: str
    why_none: str
    leads: tuple[str, ...]
    again: str
    rescue: str
    brain: str
    counted: str
    limits: tuple[LimitText, ...]
    heads: tuple[str, ...]
    marks: tuple[str, ...]
    stands: tuple[Stand, ...]

    @property
    def applies(self) -> bool:
        """True where a limit counts in this person."""
        return bool(self.limits)


def sodium_words(person: Person, curves: Sequence[Curve], day: DayLimits) -> SodiumWords:
    """All of it. curves: of sodium, one a bag."""
    reaches = [reach_of(curve, day) for curve in curves]
    passed = _already(day)
    ahead = [r for r in reaches if day.names and (r.hours or not passed)]
    return SodiumWords(
        rule_id=day.rule_id,
        why_none=day.why_none,
        leads=(*passed, *(_lead(reach, day) for reach in ahead)),
        again=_again(person, reaches, day),
        rescue=_rescue(reaches, day),
        brain=_brain(person, day),
        counted=_counted(day, person.recorded_onset),
        limits=tuple(_limit_text(name, day) for name in day.names),
        heads=tuple(day.change_words(name) for name in day.names),
        marks=tuple(curve.mark for curve in curves),
        stands=stands(curves, day) if day.names else (),
    )


def _already(day: DayLimits) -> tuple[str, ...]:
    """That a limit was passed before anything is tried."""
    for name in reversed(day.names):
        if day.already_mmol_l - day.limits[name] >= READS_AS_MORE:
            way = "risen" if day.sign > 0 else "fallen"
            return (
                f"Sodium has {way} {number(day.already_mmol_l)} mmol/L already: past "
                f"{day.change_words(name)}.",
            )
    return ()


def _rescue(reaches: Sequence[Reach], day: DayLimits) -> str:
    """What to do past the limit itself, not the aim or the lower one before it."""
    do = RISE_RESCUE if day.sign > 0 else FALL_RESCUE
    if not day.names:
        return ""
    if day.already_mmol_l - day.limits[day.names[-1]] >= READS_AS_MORE:
        return f"{PAST}: {do}"
    ahead = any(reach.name == day.names[-1] for reach in reaches)
    return f"{SHOULD_IT}: {do}" if ahead else ""


def _lead(reach: Reach, day: DayLimits) -> str:
    of = reach.mark or "It"
    if not reach.name:
        return f"{of} stays within {day.change_words(day.names[0])}, band and all."
    limit = f"{day.change_words(reach.name)} ({number(day.most_at(reach.hours, reach.name))})"
    when = f"at about {duration(timedelta(hours=reach.hours))}" if reach.hours else "now"
    if reach.likely:
        return f"{of} is likely to pass {limit} {when}."
    return f"{of} may pass {limit} {when}: the end of its band does."


def _again(person: Person, reaches: Sequence[Reach], day: DayLimits) -> str:
    """When sodium is measured again; half the way to a limit when that is sooner."""
    met = [reach.hours for reach in reaches if reach.name]
    near = bool(met or _already(day))
    hours = next_sample_h(day.now_mmol_l, day.limits, sign=day.sign, near=near)
    if hours is None:
        return ""
    if 0.0 in met:
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


def _brain(person: Person, day: DayLimits) -> str:
    """What to do when the brain answers: for a sodium so low, or so high and falling, only."""
    far = day.sign * (day.limits["sodium_far_mmol_l"] - day.now_mmol_l) > 0
    if not day.names:
        return ""
    if day.sign < 0:
        return FALL_BRAIN if far else ""
    low = day.now_mmol_l < day.limits["sodium_baseline_mmol_l"]
    if not far and not (low and (day.acute or person.conditions & set(BRAIN))):
        return ""
    young = person.age_years is not None and person.age_years < ADULT_FROM_YEARS
    return RISE_BRAIN.format(dose=CHILD_DOSE if young else ADULT_DOSE)


def _counted(day: DayLimits, recorded: str) -> str:
    """Which limits count, and from where, in words. recorded: a short standing on record."""
    if not day.names:
        return day.why_none
    first = day.counted_from
    since = f"counted from {number(first.value)} mmol/L ({first.title})"
    if day.acute:
        how = f"on record as “{recorded}”" if recorded else "known to be under 48 h old"
        return f"{capital(how)}: only the highest limit is kept, {since}."
    against = f" (chosen here, on record as “{recorded}”)" if recorded else ""
    if day.risks:
        return f"High risk ({', '.join(day.risks)}){against}, {since}."
    marks = ", no mark of high risk on record" if day.sign > 0 else ""
    return f"For 48 h or more, or not known{against}{marks}; {since}."


def _limit_text(name: str, day: DayLimits) -> LimitText:
    rule = RULE_BY_ID[day.rule_id]
    limit = next(one for one in rule.limits if one.name == name)
    source = limit.source or rule.sources[0]
    changed = day.limits[name] != limit.value
    seen = "" if source.seen else ", from memory"
    return LimitText(
        words=day.change_words(name),
        meaning=limit.meaning,
        source=f"set by this unit; {number(limit.value)} as shipped"
        if changed
        else f"{source.work}{seen}",
    )
