"""What of a course is drawn, from what start, and how far: the panels with their words. Pure."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import timedelta
from types import MappingProxyType
from typing import Final

from app.physiology.course.body import Subject
from app.physiology.course.course import Course
from app.physiology.course.telling.withheld import NOBODY
from app.web.pictures.curves import Curve
from app.web.prediction.asked import MINUTES_PER_HOUR, Asked
from app.web.prediction.panels import QUANTITIES, Panel, Quantity, curves_of, panel_of
from app.web.prediction.person import Person
from app.web.prediction.sodium.limits import DayLimits
from app.web.prediction.start.standing import Asking, Standing, standings
from app.web.prediction.truth import truth_of
from app.web.show import duration

SODIUM: Final = "sodium"


@dataclass(frozen=True, slots=True)
class Tried:
    """What is tried on whom, and what comes of it: courses by the bag's mark."""

    asked: Asked
    person: Person
    subject: Subject
    courses: Mapping[str, Course]
    begins: Mapping[str, Standing]


def begins_with(
    person: Person, subject: Subject, courses: Mapping[str, Course], asking: Asking
) -> Mapping[str, Standing]:
    """What each quantity begins with; one that is withheld from the start says so."""
    found = dict(standings([q.key for q in QUANTITIES], subject, person, asking))
    for course in courses.values():
        for one in course.withheld:
            if one.series in found and not one.from_min and not found[one.series].why_none:
                found[one.series] = Standing(found[one.series].word, one.why)
    return MappingProxyType(found)


def panels_of(tried: Tried, day: DayLimits, lines: Sequence[Curve] = ()) -> tuple[Panel, ...]:
    """A panel for each quantity that may be drawn. lines: of sodium, drawn besides."""
    drawn = (quantity for quantity in QUANTITIES if not tried.begins[quantity.key].why_none)
    return tuple(_panel(quantity, tried, day, lines) for quantity in drawn)


def _panel(quantity: Quantity, tried: Tried, day: DayLimits, lines: Sequence[Curve]) -> Panel:
    asked, begins, is_sodium = tried.asked, tried.begins[quantity.key], quantity.result == SODIUM
    cut = tuple(_until(asked.horizon_h, line) for line in lines)
    panel = panel_of(
        quantity,
        (*curves_of(quantity, tried.courses, begins), *(cut if is_sodium else ())),
        tried.person.measured.get(quantity.result, ()),
        day.bounds() if is_sodium else (),
        (begins, asked.horizon_h),
    )
    ahead = asked.horizon_h * MINUTES_PER_HOUR
    truth = truth_of(quantity.key, asked.bags, asked.volume_ml or 0.0, tried.subject, ahead)
    return replace(
        panel,
        truth=truth.short,
        truth_full=truth.full if truth.full != truth.short else "",
        note=day.why_none if is_sodium else "",
        stops=tuple(stop_words(quantity.key, tried.courses)),
    )


def _until(hours: float, line: Curve) -> Curve:
    """A line as far as is looked."""
    count = sum(at <= hours for at in line.hours)
    return Curve(
        line.mark, line.hours[:count], line.mid[:count], line.low[:count], line.high[:count]
    )


def stop_words(key: str, courses: Mapping[str, Course]) -> Iterator[str]:
    """Why a line ends before the picture does, for each bag it does so for."""
    for mark, course in courses.items():
        for one in course.withheld:
            if one.series == key and one.from_min:
                of = f"{mark}: " if len(courses) > 1 else ""
                at = duration(timedelta(minutes=round(one.from_min)))
                yield f"{of}not drawn from {at} on: {one.why}."


def lethal_words(courses: Mapping[str, Course], names: Mapping[str, str]) -> Sequence[str]:
    """What would reach a state that nobody lives in, and when; said first of all."""
    return tuple(
        f"{f'{mark}: ' if len(courses) > 1 else ''}{names[one.series]} from "
        f"{duration(timedelta(minutes=round(one.from_min)))} on: {one.why}."
        for mark, course in courses.items()
        for one in course.withheld
        if one.series in names and one.from_min and one.why == NOBODY
    )
