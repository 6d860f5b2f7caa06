"""One thing that runs, as loads over the hours looked ahead, in words, or why it is not counted."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from app.catalogue.fluid import ML_PER_L
from app.cautions.phrases import number
from app.chemistry.composition import Composition
from app.physiology.course.loads import Load

MINUTES_PER_HOUR: Final = 60.0
MINUTES_PER_DAY: Final = 1440.0
# A push takes a minute (common practice, no source).
SHORTEST_MIN: Final = 1.0
# Less than this is in already.
LEAST_ML: Final = 1.0


@dataclass(frozen=True, slots=True)
class Part:
    """What one source gives. words: what is counted of it. not_counted: what is not, and why."""

    loads: tuple[Load, ...] = ()
    words: str = ""
    not_counted: tuple[str, ...] = ()


def left_out(name: str, why: str) -> Part:
    """A source of which nothing is counted."""
    return Part(not_counted=(f"{name}: {why}",))


def running(
    mix: Composition, ml_h: float, span_min: tuple[float, float], insulin_units_h: float = 0.0
) -> Load:
    """An even flow from one minute to another."""
    starts, ends = span_min
    length = max(ends - starts, SHORTEST_MIN)
    hours = length / MINUTES_PER_HOUR
    return Load(mix, ml_h * hours / ML_PER_L, starts, length, insulin_units_h * hours)


def given_at(
    mix: Composition, ml: float, minutes: float, times_min: Iterable[float]
) -> tuple[Load, ...]:
    """A dose of so many mL at each of these times."""
    length = max(minutes, SHORTEST_MIN)
    return tuple(Load(mix, ml / ML_PER_L, at, length) for at in times_min)


def dose_times(doses_a_day: float, ahead_min: float) -> tuple[float, ...]:
    """Minutes from now at which doses are given: the first now, then evenly, at most a day's."""
    apart = MINUTES_PER_DAY / doses_a_day
    times, at = [0.0], apart
    while at < ahead_min:
        times.append(at)
        at += apart
    return tuple(times)


def every(doses_a_day: float) -> str:
    """How often a dose comes, in words."""
    if doses_a_day <= 1:
        return "one from now"
    return f"every {number(MINUTES_PER_DAY / doses_a_day / MINUTES_PER_HOUR)} h, the first now"
