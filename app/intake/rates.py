"""Rate, volume and duration as words give them."""

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final

from app.catalogue.fluid import ML_PER_L
from app.intake.pace.clauses import (
    AFTER_LAST,
    AS_NEEDED,
    BAG_NUMBER,
    BAG_OF,
    BY_LOSSES,
    NO_PLACE,
    THEN,
    Place,
    not_given,
    place_of,
    steps_of,
    without_asides,
)
from app.intake.pace.clock import NO_TIMES, Times, times_in
from app.intake.pace.heard import Body, Heard
from app.intake.pace.hearing import hear
from app.intake.pace.spelling import plain
from app.intake.request import Span

HOURS_PER_DAY: Final = 24.0
MINUTES_PER_HOUR: Final = 60.0
HOUR_WORDS: Final = {
    **dict.fromkeys(("h", "hr", "hrs", "hour", "hours", "hourly", "hrly"), 1.0),
    **dict.fromkeys(("min", "mins", "minute", "minutes"), 1 / MINUTES_PER_HOUR),
    **dict.fromkeys(("d", "day", "days", "24h", "24 h", "24hr", "24 hours"), HOURS_PER_DAY),
}
ML_WORDS: Final = {
    **dict.fromkeys(("ml", "mls", "cc", "millilitres", "milliliters"), 1.0),
    **dict.fromkeys(("l", "litre", "liter", "litres", "liters"), ML_PER_L),
}
RATE_WORDS: Final = {
    f"{ml}/{time}": factor / hours
    for ml, factor in ML_WORDS.items()
    for time, hours in HOUR_WORDS.items()
}
# The fastest rapid infusers give about 500 mL/min (common practice, no source).
RATE: Final = Span(0.001, 30_000, "mL/h", RATE_WORDS)
VOLUME: Final = Span(0.001, 50_000, "mL", ML_WORDS)
DURATION: Final = Span(0.001, 31 * HOURS_PER_DAY, "hours", HOUR_WORDS)
ONE_AFTER_ANOTHER: Final = "Read as one bag after another."
# Figures this near are one figure, rounded twice.
SAME_WITHIN: Final = 0.05
BOLUS_FROM_ML_KG: Final = 5.0
BOLUS_BY_KG_WITHIN_H: Final = 1.0
# Several bags over a day or half of one are meant together.
TOGETHER_FROM_H: Final = 12.0
# A bare number behind "bolus" is its volume.
BOLUS_FROM_ML: Final = 20.0
# "Stat" over hours, or at an ordinary rate, is a fluid to be started now and no bolus.
STAT_WITHIN_H: Final = 2.0
STAT_FROM_ML_H: Final = 250.0

BOLUS: Final = re.compile(
    r"\b(?:bolus\w*|push|ivp|wide open|run open|free flow|(?:fluid )?challenge|squeeze[d]?"
    r"|as fast as \w+|(?:give|run|infuse|go) (?:in )?fast|run (?:it )?through|rapid(?:ly)?)\b"
)
NO_BOLUS: Final = re.compile(r"\b(?:no|not|without|non|after|post|following)[ -]+(?:\w+ )?bolus\w*")
STAT: Final = re.compile(r"\b(?:stat|immediately|straight away)\b")
NO_RATE: Final = re.compile(r"\b(?:titrat\w+|per protocol|as per|adjust\w*|variable)\b")
OPEN: Final = re.compile(r"\bkvo\b")
ONCE: Final = re.compile(
    r"\bonce\b(?!\s+[a-z])|\bonce only\b|\bx ?1\b|\b(?:1|one) bag only\b|\bsingle bag\b"
)
OVERNIGHT: Final = re.compile(r"\bovernight\b")
# A night from ten to eight, or to ten at the longest (common practice, no source).
NIGHT_H: Final = 10.0


@dataclass(frozen=True, slots=True)
class Flow:
    """How an order runs; None where neither written nor to be worked out.

    asks: what to ask of the words. wants: what to ask where no rate is found in another way.
    notes: how something was read, asked softly. stated_duration: the writer said when it ends.
    of_bag: the duration is that of the bag. bags: how many bags one after another. steps: one rate
    after another. bare: a number that may be a rate; is_at: it stands behind "at"; bare_over: one
    that may be hours or minutes. keeps_open: at whatever rate keeps a vein open. by_losses: at the
    rate of what is lost. not_given: the words that say that it does not run. said: a step's own.
    """

    rate_ml_h: float | None = None
    volume_ml: float | None = None
    duration_h: float | None = None
    stated_duration: bool = False
    is_bolus: bool = False
    asks: tuple[str, ...] = ()
    wants: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    of_bag: bool = False
    bags: int = 1
    steps: tuple["Flow", ...] = ()
    bare: float | None = None
    is_at: bool = False
    bare_over: float | None = None
    dose_rates: tuple[tuple[float, str], ...] = ()
    keeps_open: bool = False
    by_losses: bool = False
    as_needed: bool = False
    times: Times = NO_TIMES
    place: Place = NO_PLACE
    not_given: str = ""
    said: str = ""


NOTHING: Final = Flow()


@lru_cache(maxsize=4096)
def flow_of_words(text: str, weight_kg: float | None, height_cm: float | None = None) -> Flow:
    """What words such as "1 L over 8 h" or "2 mL/kg/h" say; doubts are asked about, not used.

    NOTHING itself where no word of it was understood.
    """
    said = plain(text)
    times, rest = times_in(said)
    for pattern in (AFTER_LAST, BAG_OF, BAG_NUMBER):
        rest = pattern.sub(" ", rest)
    body = Body(weight_kg, height_cm)
    steps = steps_of(rest)
    parts = [replace(_part(without_asides(step), body), said=step) for step in steps]
    if len(steps) > 1 and not THEN.search(rest):
        parts[0] = replace(parts[0], notes=(*parts[0].notes, ONE_AFTER_ANOTHER))
    flow = replace(
        _joined(parts),
        keeps_open=bool(parts) and parts[0].keeps_open,
        by_losses=bool(BY_LOSSES.search(said)),
        as_needed=bool(AS_NEEDED.search(said)),
        times=times,
        place=place_of(said),
        not_given=not_given(said),
    )
    understood = replace(flow, notes=(), of_bag=False, bags=1, said="")
    return NOTHING if understood == NOTHING else flow


def _part(said: str, body: Body) -> Flow:
    """One step: its figures, and what its words say besides."""
    heard = hear(BY_LOSSES.sub(" ", said), body)
    rate = _single(heard.rates, RATE, heard)
    volume = _single(heard.volumes, VOLUME, heard)
    duration, repeats = _length(heard)
    if heard.counted_first and duration is not None:
        duration = _for_each(duration, heard)
    is_bolus = _is_bolus(said, rate, duration) or _is_bolus_by_kg(heard, duration)
    if is_bolus and volume is None and (heard.bare or 0) >= BOLUS_FROM_ML:
        volume, heard.bare = heard.bare, None
    if not (rate or duration) and OVERNIGHT.search(said):
        duration = NIGHT_H
        heard.notes.append(f"Overnight is read as {NIGHT_H:g} h.")
    if not heard.asks and NO_RATE.search(said):
        heard.wants.append("At what rate, in mL/h?")
    return Flow(
        rate,
        volume,
        duration,
        _ends(heard, said, is_bolus and volume is not None, duration is not None and not repeats),
        is_bolus,
        tuple(heard.asks),
        tuple(heard.wants),
        tuple(heard.notes),
        heard.of_bag,
        heard.bags,
        bare=heard.bare,
        is_at=heard.is_at,
        bare_over=heard.bare_over,
        dose_rates=tuple(heard.dose_rates),
        keeps_open=bool(OPEN.search(said)),
    )


def _for_each(duration: float, heard: Heard) -> float:
    """The length of one bag of "3 x 1 L over 24 h"; "2 x 500 mL over 4 h" is asked about."""
    if duration < TOGETHER_FROM_H:
        heard.asks.append(f"Over {duration:g} h: each bag, or all together?")
        return duration
    return duration / heard.bags


def _is_bolus(said: str, rate: float | None, duration: float | None) -> bool:
    if BOLUS.search(NO_BOLUS.sub(" ", said)):
        return True
    slow = (duration or 0) > STAT_WITHIN_H or (rate is not None and rate < STAT_FROM_ML_H)
    return bool(STAT.search(said)) and not slow


def _is_bolus_by_kg(heard: Heard, duration: float | None) -> bool:
    """ "20 mL/kg over 20 min" is one, whatever it is called."""
    fast = duration is not None and duration <= BOLUS_BY_KG_WITHIN_H
    return fast and heard.by_kg >= BOLUS_FROM_ML_KG


def _length(heard: Heard) -> tuple[float | None, bool]:
    """How long one bag runs, and whether that is only till the next: "8-hourly", "q8h".

    With a length beside it ("over 2 h, q6h") the bag is given so often a day.
    """
    duration = _single(heard.durations, DURATION, heard)
    interval = _single(heard.intervals, DURATION, heard)
    if interval is None:
        return duration, False
    if duration is None or duration >= interval:
        return interval, True
    heard.bags = max(heard.bags, round(HOURS_PER_DAY / interval))
    return duration, False


def _ends(heard: Heard, said: str, whole_bolus: bool, has_end: bool) -> bool:
    """True when the words say when it ends: "8-hourly" alone is one bag after another."""
    return has_end or whole_bolus or heard.bags > 1 or bool(ONCE.search(said))


def _single(heard_figures: list[float], span: Span, heard: Heard) -> float | None:
    """The one figure of its kind; several different or impossible ones are asked about."""
    figures = _distinct(heard_figures)
    shown = " or ".join(f"{figure:g}" for figure in figures)
    if len(figures) > 1:
        heard.asks.append(f"Several figures are written: {shown} {span.unit}. Which, for how long?")
        return None
    if figures and not span.holds(figures[0]):
        heard.asks.append(f"{shown} {span.unit} cannot be meant; {span.accepted} is accepted.")
        return None
    return figures[0] if figures else None


def _distinct(figures: Iterable[float]) -> list[float]:
    """The figures without those that only round another: "84 mL/h (2 L a day)"."""
    distinct: list[float] = []
    for figure in figures:
        if not any(abs(figure - one) <= SAME_WITHIN * max(figure, one) for one in distinct):
            distinct.append(figure)
    return distinct


def _joined(parts: list[Flow]) -> Flow:
    """Several steps as one flow: the first, with all of them kept."""
    first = parts[0] if parts else NOTHING
    later = [replace(p, rate_ml_h=p.bare, bare=None) if p.bare else p for p in parts[1:]]
    steps = [part for part in later if _is_step(part)]
    if not (steps and (_is_step(first) or first.is_bolus)):
        return next(filter(_is_step, parts), first)
    return replace(
        first,
        asks=tuple(ask for part in parts for ask in part.asks),
        notes=tuple(note for part in parts for note in part.notes),
        steps=(first, *steps),
    )


def _is_step(part: Flow) -> bool:
    return bool(part.rate_ml_h or part.volume_ml or part.duration_h)
