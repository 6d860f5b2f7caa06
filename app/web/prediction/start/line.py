"""What is read aloud of an order: what comes, when the next sample is due, and when to call; always
in the same order. Pure.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import timedelta
from typing import Final

from app.cautions.phrases import listed
from app.physiology.course.telling.withheld import LOW_GLUCOSE_MMOL_L
from app.web.pictures.curves import Curve
from app.web.prediction.asked import MINUTES_PER_HOUR
from app.web.prediction.bag.potassium import PotassiumWords
from app.web.prediction.panels import QUANTITIES, Quantity, cell_at, curves_of, matters, read_to
from app.web.prediction.sodium.words import SodiumWords
from app.web.prediction.start.drawn import Tried
from app.web.prediction.start.standing import NO_RESULT
from app.web.show import capital, clock, duration, number

TOLD: Final = ("potassium_mmol_l", "sodium_mmol_l", "glucose_mmol_l")
# Told only where it moves or is out of range.
WHERE_IT_MATTERS: Final = TOLD[2:]
# So many sentences on sodium are read aloud; the rest stands under its heading.
FIRST: Final = 2
NO_SAMPLE: Final = "No sample is asked for by our rules."
# How soon both are measured again while insulin runs, h (common practice, no source).
WITH_INSULIN_H: Final = 1.0
# Where a potassium is called about, mmol/L (common practice, no source).
CALL_LOW, CALL_HIGH = 3.0, 6.5


@dataclass(frozen=True, slots=True)
class Mark:
    """A level that is told when a course gets past it. sign: 1 above it, -1 below."""

    key: str
    value: float
    sign: int

    @property
    def words(self) -> str:
        """As it is said."""
        return f"{'over' if self.sign > 0 else 'under'} {number(self.value)}"


# Glucose is added to what runs once it is under 14 (ketoacidosis; British guideline, from memory).
MARKS: Final = (
    Mark("potassium_mmol_l", 3.5, -1), Mark("potassium_mmol_l", 5.5, 1),
    Mark("glucose_mmol_l", 14.0, -1), Mark("glucose_mmol_l", 4.0, -1),
)  # fmt: skip


def line_words(
    tried: Tried, sodium: SodiumWords, potassium: PotassiumWords | None, *, insulin: bool
) -> tuple[str, ...]:
    """The sentences. insulin: some of it runs and is counted."""
    lead = "" if potassium is None else potassium.lead
    told = [_comes(tried), sodium_lead(sodium.leads[:FIRST]), lead, *_passed(tried)]
    samples = [
        sodium.again,
        "" if potassium is None else potassium.again,
        *_insulin(tried, insulin),
        *_lacking(tried),
    ]
    again = [one for one in samples if one] or [NO_SAMPLE]
    return tuple(one for one in (*told, *again, _call(tried)) if one)


def sodium_lead(leads: Sequence[str]) -> str:
    """What is said first of sodium, where no heading says of what."""
    if not leads:
        return ""
    first, *rest = leads
    if first.startswith("It "):
        first = f"Sodium {first.removeprefix('It ')}"
    elif "odium" not in first:
        first = f"Sodium: {first}"
    return " ".join((first, *rest))


def _comes(tried: Tried) -> str:
    """What the main figures are when the bag is in, or at the end of what is looked at."""
    asked = tried.asked
    bag_h = (asked.minutes or 0.0) / MINUTES_PER_HOUR
    hours = min(bag_h, asked.horizon_h)
    each = [_figures(mark, hours, tried) for mark in tried.courses]
    if not any(each):
        return ""
    when = f"{_by(tried, hours)}, {'bag in' if bag_h <= asked.horizon_h else 'still running'}"
    two = len(each) > 1
    said = "; ".join(f"{m}: {e}" if two else e for m, e in zip(tried.courses, each, strict=True))
    return f"{when}: {said}."


def _figures(mark: str, hours: float, tried: Tried) -> str:
    return ", ".join(_figure(quantity, hours, mark, tried) for quantity in _told(tried))


def _told(tried: Tried) -> Iterator[Quantity]:
    """Those that may be drawn, in a fixed order."""
    by_key = {quantity.key: quantity for quantity in QUANTITIES}
    for key in TOLD:
        if tried.begins[key].why_none:
            continue
        curves = curves_of(by_key[key], tried.courses)
        if key not in WHERE_IT_MATTERS or matters(by_key[key], curves):
            yield read_to(by_key[key], curves)


def _figure(quantity: Quantity, hours: float, mark: str, tried: Tried) -> str:
    (curve,) = curves_of(quantity, {mark: tried.courses[mark]})
    name = quantity.name.lower()
    if hours > curve.hours[-1]:
        return f"{name} not predicted so far"
    cell = cell_at(curve, hours, quantity.scale.places)
    begins = " from an assumed start" if tried.begins[quantity.key].is_assumed else ""
    return f"{name} about {cell.mid} ({cell.band}){begins}"


def _by(tried: Tried, hours: float) -> str:
    """By which time of day; how far ahead where the figures were only typed."""
    ahead = timedelta(minutes=round(hours * MINUTES_PER_HOUR))
    snapshot = tried.person.snapshot
    if not tried.person.called or snapshot is None:
        return f"In {duration(ahead)}"
    return f"By {clock(snapshot.now + ahead, snapshot.now)}"


def _passed(tried: Tried) -> Iterator[str]:
    """Levels that the course gets past, and when."""
    for quantity in QUANTITIES:
        marks = [one for one in MARKS if one.key == quantity.key]
        if (
            not marks
            or tried.begins[quantity.key].why_none
            or tried.begins[quantity.key].is_assumed
        ):
            continue
        for curve in curves_of(quantity, tried.courses):
            said = [words for mark in marks if (words := _past(curve, mark, tried))]
            of = f"{curve.mark}: " if curve.mark else ""
            if said:
                yield f"{of}{capital(quantity.name)} {', '.join(said)}."


def _past(curve: Curve, mark: Mark, tried: Tried) -> str:
    if mark.sign * (curve.mid[0] - mark.value) >= 0:
        return ""
    edge = curve.high if mark.sign > 0 else curve.low
    for word, values in (("likely", curve.mid), ("may be", edge)):
        for hours, value in zip(curve.hours, values, strict=True):
            if mark.sign * (value - mark.value) > 0:
                furthest = (max if mark.sign > 0 else min)(edge)
                reach = f", may reach {number(furthest)}" if word == "likely" else ""
                return f"{word} {mark.words} {_by(tried, hours).lower()}{reach}"
    return ""


def _insulin(tried: Tried, insulin: bool) -> Iterator[str]:
    if insulin:
        yield (
            f"While insulin runs, potassium and glucose again {_by(tried, WITH_INSULIN_H).lower()} "
            "(common practice, no source)."
        )


def _lacking(tried: Tried) -> Iterator[str]:
    """Samples to take before anything can be told, and after a glucose that was low."""
    names = {quantity.key: quantity.name for quantity in QUANTITIES}
    lacks = [names[key] for key in TOLD if tried.begins[key].why_none.startswith(NO_RESULT)]
    if lacks:
        yield f"{listed((lacks[0], *map(str.lower, lacks[1:])))} now: there is no result to go by."
    if tried.subject.glucose_mmol_l < LOW_GLUCOSE_MMOL_L:
        yield "Glucose again in 15 min."


def _call(tried: Tried) -> str:
    """When to call about potassium, where it may come to that."""
    quantity = next(q for q in QUANTITIES if q.key == TOLD[0])
    if tried.begins[quantity.key].why_none:
        return ""
    curves = curves_of(quantity, tried.courses)
    low = f"under {number(CALL_LOW)}" if min(min(c.low) for c in curves) < CALL_LOW else ""
    high = f"over {number(CALL_HIGH)}" if max(max(c.high) for c in curves) > CALL_HIGH else ""
    when = " or ".join(filter(None, (low, high)))
    return f"Call if potassium is {when} (common practice, no source)." if when else ""
