"""Times of the day at which an order starts or ends, as written."""

import re
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Final

CLOCK: Final = (
    r"(\d{1,2}:\d\d(?!\d)\s*(?:[ap]m)?(?:\s?h(?:rs?|ours)?\b)?|[012]\d[0-5]\d(?:\s?h(?:rs?|ours)?\b)?"
    r"|\d{1,2}\s*[ap]m\b|noon\b|midday\b|midnight\b)(?!\s*(?:mls?|cc|l|litres?|/|per|%|over)(?![a-z]))"
)
DAY: Final = r"(?:\s*(tomorrow|tmrw|tom|tonight|today))?"
DATE: Final = (
    r"(?:(?:mon|tue|wed|thu|fri|sat|sun)[a-z]*\s+)?(?:(\d{1,2})[/.-](\d{1,2})(?:[/.-]\d{2,4})?\s+)?"
)
AT: Final = r"(?:at\s+|@\s*)?"
BEGIN: Final = r"(?:to )?(?:start(?:s|ed|ing)?|commenc\w*|beg[ia]n\w*|from|due|since)"
FINISH: Final = r"(?:to )?(?:until|till?|stop(?:s|ping)?|end(?:s|ing)?|finish(?:es|ing)?)"
SPAN: Final = re.compile(rf"(?:\bfrom\s+)?\b{CLOCK}\s*(?:-|to|until|till?)\s*{CLOCK}")
STARTS: Final = re.compile(
    rf"\b{BEGIN}{DAY}\s*{DATE}{AT}{CLOCK}{DAY}|\b(tomorrow|tonight)\s+{AT}{CLOCK}"
)
ENDS: Final = re.compile(rf"\b{FINISH}\s+{DATE}(?:at\s+|by\s+|@\s*)?{CLOCK}{DAY}")
WORDS: Final = {"noon": 720, "midday": 720, "midnight": 0}
FIGURES: Final = re.compile(r"(\d{1,2}?):?(\d\d)?\s*([ap]m)?(?:\s?h(?:rs?|ours)?)?")
MINUTES_PER_HOUR: Final = 60
HOURS_PER_DAY: Final = 24
HALF_DAY_H: Final = 12
# A start some hours ago is one that was; any earlier hour is tomorrow's (common practice).
STARTED_WITHIN: Final = timedelta(hours=8)
DATE_WITHIN: Final = timedelta(days=4)
TOMORROW: Final = ("tomorrow", "tmrw", "tom")


@dataclass(frozen=True, slots=True)
class Clock:
    """A time of day: minutes after midnight, the word for its day, a date as two figures."""

    minutes: int
    day: str = ""
    figures: tuple[int, int] | None = None


@dataclass(frozen=True, slots=True)
class Times:
    """When it starts and ends, as far as written."""

    starts: Clock | None = None
    ends: Clock | None = None


NO_TIMES: Final = Times()


def times_in(said: str) -> tuple[Times, str]:
    """The times that the words give, and the words without them."""
    if (span := SPAN.search(said)) and (first := _clock(span[1])) and (last := _clock(span[2])):
        return Times(first, last), said[: span.start()] + " , " + said[span.end() :]
    starts = ends = None
    if match := STARTS.search(said):
        starts = _start(match)
        said = said[: match.start()] + " , " + said[match.end() :] if starts else said
    if match := ENDS.search(said):
        ends = _dated(match[3], match[4] or "", match[1], match[2])
        said = said[: match.start()] + " , " + said[match.end() :] if ends else said
    return Times(starts, ends), said


def start_at(clock: Clock, now: datetime) -> datetime:
    """The moment a start means: on its day, else the one in the last hours, else the next."""
    moment = _on_its_day(clock, now)
    if clock.day or clock.figures:
        return moment
    return moment if moment >= now - STARTED_WITHIN else moment + timedelta(days=1)


def end_at(clock: Clock, since: datetime) -> datetime:
    """The first moment of that time after a start."""
    moment = _on_its_day(clock, since)
    return moment if moment > since else moment + timedelta(days=1)


def _on_its_day(clock: Clock, now: datetime) -> datetime:
    midnight = now.replace(hour=0, minute=0, second=0, microsecond=0)
    moment = midnight + timedelta(minutes=clock.minutes)
    if clock.day in TOMORROW:
        return moment + timedelta(days=1)
    return moment if clock.figures is None else _dated_moment(clock.figures, moment, now)


def _dated_moment(figures: tuple[int, int], moment: datetime, now: datetime) -> datetime:
    """The near date that two figures mean, day or month first; today's where neither is near."""
    for day, month in (figures, figures[::-1]):
        try:
            dated = datetime.combine(date(now.year, month, day), moment.timetz())
        except ValueError:
            continue
        if abs(dated - now) <= DATE_WITHIN:
            return dated
    return moment


def _start(match: re.Match[str]) -> Clock | None:
    if match[6]:
        return _dated(match[7], match[6], None, None)
    return _dated(match[4], match[1] or match[5] or "", match[2], match[3])


def _dated(written: str, day: str, first: str | None, second: str | None) -> Clock | None:
    clock = _clock(written)
    if clock is None:
        return None
    figures = (int(first), int(second)) if first and second else None
    return Clock(clock.minutes, day, figures)


def _clock(written: str) -> Clock | None:
    """A time of day from its figures; None for figures that are none."""
    text = written.strip()
    if text in WORDS:
        return Clock(WORDS[text])
    match = FIGURES.fullmatch(text)
    if not match:
        return None
    hours, minutes = int(match[1]), int(match[2] or 0)
    if match[3]:
        hours = hours % HALF_DAY_H + (HALF_DAY_H if match[3] == "pm" else 0)
    if hours > HOURS_PER_DAY or minutes >= MINUTES_PER_HOUR:
        return None
    return Clock((hours % HOURS_PER_DAY) * MINUTES_PER_HOUR + minutes)
