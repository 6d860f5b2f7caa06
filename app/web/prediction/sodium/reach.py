"""Whether a course passes a limit of the day, and when; where sodium stands at set hours."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from app.web.pictures.curves import Curve
from app.web.prediction.panels import Cell, cell_at, hours_words, value_at
from app.web.prediction.sodium.limits import READS_AS_MORE, DayLimits
from app.web.show import number

# When a day's sodium is looked at, h.
STANDS_AT_H: Final = (6.0, 12.0, 24.0)


@dataclass(frozen=True, slots=True)
class Reach:
    """The worst that a course does to the limits: which it passes and when, h.

    name: of the limit; empty where none is passed. likely: the middle passes it, else the band.
    """

    mark: str
    name: str = ""
    hours: float = 0.0
    likely: bool = False


@dataclass(frozen=True, slots=True)
class Stand:
    """Where sodium stands at one time. most: each limit at that hour. passed: words by bag."""

    at: str
    cells: tuple[Cell, ...]
    most: tuple[str, ...]
    passed: tuple[str, ...]


def passes_h(hours: Sequence[float], values: Iterable[float], day: DayLimits, name: str) -> float:
    """When values first pass a limit, h from now; infinite where they never do."""
    for at, value in zip(hours, values, strict=True):
        if day.sign * (value - day.most_at(at, name)) >= READS_AS_MORE:
            return at
    return float("inf")


def reach_of(curve: Curve, day: DayLimits) -> Reach:
    """The worst of it: the highest limit first, the middle before the band."""
    edge = curve.high if day.sign > 0 else curve.low
    for name in reversed(day.names):
        for likely, values in ((True, curve.mid), (False, edge)):
            at = passes_h(curve.hours, values, day, name)
            if at <= curve.hours[-1]:
                return Reach(curve.mark, name, at, likely)
    return Reach(curve.mark)


def stands(curves: Sequence[Curve], day: DayLimits) -> tuple[Stand, ...]:
    """Where each course is at the usual hours, as far as is looked ahead, and at its end."""
    ends = curves[0].hours[-1]
    hours = sorted({h for h in STANDS_AT_H if h < ends} | {ends})
    return tuple(_stand(h, curves, day) for h in hours)


def _stand(hours: float, curves: Sequence[Curve], day: DayLimits) -> Stand:
    return Stand(
        at=hours_words(hours),
        cells=tuple(cell_at(curve, hours, 1) for curve in curves),
        most=tuple(number(day.most_at(hours, name)) for name in day.names),
        passed=tuple(_passed(curve, hours, day) for curve in curves),
    )


def _passed(curve: Curve, hours: float, day: DayLimits) -> str:
    edge = curve.high if day.sign > 0 else curve.low
    for name in reversed(day.names):
        most = day.most_at(hours, name)
        for words, values in (("past", curve.mid), ("band past", edge)):
            if day.sign * (value_at(curve, values, hours) - most) >= READS_AS_MORE:
                return f"{words} {number(most)}"
    return ""
