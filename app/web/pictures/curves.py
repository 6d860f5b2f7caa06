"""A quantity over time with its band: where every line, point and word stands. Pure geometry."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import chain
from math import ceil, floor, log10
from typing import Final

from app.web.pictures.extremes import Words, extreme_of, placed
from app.web.pictures.field import HEIGHT, LETTER, LINE, PAD, WIDTH, Field
from app.web.pictures.limit_lines import Bound, LimitLine, limit_lines
from app.web.pictures.spread import spread
from app.web.show import number

MOST_STEPS: Final = 5
MOST_HOURS: Final = 6
NICE: Final = (1.0, 2.0, 5.0, 10.0)
HOUR_STEPS: Final = (0.25, 0.5, 1.0, 2.0, 3.0, 4.0, 6.0, 8.0, 12.0, 24.0)
# A result from before stands in the picture when it is no older than this share of what is ahead.
PAST_OF_AHEAD: Final = 0.6
DIGITS: Final = 9
MINUTES_PER_HOUR: Final = 60.0
END_AWAY: Final = 6.0

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Curve:
    """One fluid's course: its mark ("A", or nothing), hours from now, and at each middle and band.

    The band is widened to hold the middle, so that a line never leaves its own band. assumed: it
    begins with what nobody measured.
    """

    mark: str
    hours: tuple[float, ...]
    mid: tuple[float, ...]
    low: tuple[float, ...]
    high: tuple[float, ...]
    assumed: bool = False


@dataclass(frozen=True, slots=True)
class Result:
    """A measured value, hours from now (before: negative), with what it says when pointed at."""

    hours: float
    value: float
    title: str


@dataclass(frozen=True, slots=True)
class Scale:
    """How finely a quantity is read, and the least that the axis spans: in its unit, and as a share
    of where the curves begin.
    """

    places: int
    least_span: float
    least_share: float = 0.0

    def least(self, begins: float) -> float:
        """The least that the axis spans, in the unit of the quantity."""
        return max(self.least_span, self.least_share * abs(begins))


@dataclass(frozen=True, slots=True)
class Tick:
    """A mark of an axis: where along it, and its words."""

    at: float
    words: str


@dataclass(frozen=True, slots=True)
class Track:
    """A drawn curve: its line, its band as a closed outline, and the word at its end. name_y: where
    its name stands in the field, clear of the line.
    """

    mark: str
    line: tuple[Point, ...]
    band: tuple[Point, ...]
    end: str
    end_y: float
    assumed: bool = False
    name_y: float = 0.0

    @property
    def end_x(self) -> float:
        """Where the word at its end begins: beside the last point drawn."""
        return self.line[-1][0] + END_AWAY

    @property
    def line_points(self) -> str:
        """The line as a picture's points are written."""
        return _written(self.line)

    @property
    def band_points(self) -> str:
        """The outline of the band, written so."""
        return _written(self.band)


def _written(points: Iterable[Point]) -> str:
    return " ".join(f"{x:.1f},{y:.1f}" for x, y in points)


@dataclass(frozen=True, slots=True)
class Dot:
    """A drawn result."""

    x: float
    y: float
    title: str


@dataclass(frozen=True, slots=True)
class Plot:
    """Everything drawn, in units of the picture; left to bottom bound the field itself. turns: the
    words of each curve's highest or lowest, where that is not an end of it.
    """

    left: float
    right: float
    top: float
    bottom: float
    now_x: float
    across: tuple[Tick, ...]
    up: tuple[Tick, ...]
    tracks: tuple[Track, ...]
    dots: tuple[Dot, ...]
    bounds: tuple[LimitLine, ...]
    turns: tuple[Words, ...] = ()
    width: float = WIDTH
    height: float = HEIGHT


def draw(
    curves: Sequence[Curve],
    results: Sequence[Result],
    bounds: Sequence[Bound],
    scale: Scale,
    ahead_h: float = 0.0,
) -> Plot:
    """The picture of one quantity. ahead_h: how far is looked, where every curve may end before.

    Raises ValueError without a curve, or one of no length.
    """
    if not curves or max(c.hours[-1] for c in curves) <= 0:
        raise ValueError("a curve of some length is needed")
    curves = tuple(map(_whole, curves))
    ahead = max(ahead_h, *(c.hours[-1] for c in curves))
    near = [r for r in results if -ahead * PAST_OF_AHEAD <= r.hours <= ahead]
    hours = (min([0.0, *(r.hours for r in near)]), ahead)
    met = [b for b in bounds if b.to_h > hours[0] and b.from_h < ahead]
    least = scale.least(curves[0].mid[0])
    ticks = steps(*_range(curves, near, met, least))
    field = _field(curves, ticks, hours, scale)
    return Plot(
        left=field.left, right=field.right, top=field.top, bottom=field.bottom,
        now_x=field.x(0.0),
        across=_hour_ticks(field),
        up=tuple(Tick(field.y(v), number(v, DIGITS)) for v in ticks),
        tracks=_tracks(curves, field, scale),
        dots=tuple(Dot(field.x(r.hours), field.y(r.value), r.title) for r in near),
        bounds=(lines := limit_lines(met, field)),
        turns=_turns(curves, field, scale, [_limit_words(one) for one in lines if one.words]),
    )  # fmt: skip


def _turns(
    curves: Sequence[Curve], field: Field, scale: Scale, taken: list[Words]
) -> tuple[Words, ...]:
    """The highest or lowest of each curve with its hour, as far as there is room for it."""
    found: list[Words] = []
    for curve in curves:
        turn = extreme_of(curve.hours, curve.mid, scale.least(curve.mid[0]))
        if turn is None:
            continue
        text = f"{curve.mark} {number(turn.value, scale.places)} at {_hours(turn.hours)}".strip()
        words = placed(turn, text, field, (*taken, *found))
        found += [] if words is None else [words]
    return tuple(found)


def _hours(hours: float) -> str:
    if hours >= 1:
        return f"{number(hours)} h"
    return f"{number(hours * MINUTES_PER_HOUR, 0)} min"


def _limit_words(line: LimitLine) -> Words:
    half = LETTER * len(line.words) / 2
    return Words(line.words_x + (-half if line.at_end else half), line.words_y, line.words)


def steps(low: float, high: float, most: int = MOST_STEPS) -> tuple[float, ...]:
    """Round values, 1, 2 or 5 times a power of ten apart, from under low to over high.

    At most `most` intervals. Raises ValueError unless low is under high.
    """
    if not low < high:
        raise ValueError(f"{low} to {high} spans nothing")
    ten: float = 10.0 ** floor(log10((high - low) / most))
    for size in (nice * power for power in (ten, 10 * ten) for nice in NICE):
        first, last = floor(low / size + 1e-9), ceil(high / size - 1e-9)
        if last - first <= most:
            break
    return tuple(round(i * size, DIGITS) for i in range(first, max(last, first + 1) + 1))


def _whole(curve: Curve) -> Curve:
    """The curve with a band that is in order and holds its middle."""
    every = list(zip(curve.low, curve.mid, curve.high, strict=True))
    low, high = tuple(map(min, every)), tuple(map(max, every))
    return replace(curve, low=low, high=high)


def _range(
    curves: Iterable[Curve], results: Iterable[Result], bounds: Iterable[Bound], least: float
) -> tuple[float, float]:
    """Lowest and highest of all that is drawn, widened about its middle to the least span."""
    values = list(chain(*(chain(c.low, c.high) for c in curves)))
    values += [*(r.value for r in results), *(b.value for b in bounds)]
    low, high = min(values), max(values)
    wanting = max(0.0, least - (high - low)) / 2
    return low - wanting, high + wanting


def _field(
    curves: Sequence[Curve], ticks: Sequence[float], hours: tuple[float, float], scale: Scale
) -> Field:
    """Room is left for the longest word at either side, so that none is cut."""
    before = max(_wide(number(v, DIGITS)) for v in ticks)
    after = max(_wide(_end(curve, scale)) for curve in curves)
    return Field(PAD + before, WIDTH - PAD - after, hours, (ticks[0], ticks[-1]))


def _wide(words: str) -> float:
    return LETTER * len(words)


def _end(curve: Curve, scale: Scale) -> str:
    return f"{curve.mark} {number(curve.mid[-1], scale.places)}".strip()


def _hour_ticks(field: Field) -> tuple[Tick, ...]:
    first, last = field.hours
    size = next((s for s in HOUR_STEPS if (last - first) / s <= MOST_HOURS), HOUR_STEPS[-1])
    marks = [i * size for i in range(ceil(first / size), floor(last / size) + 1)]
    return tuple(Tick(field.x(h), f"{number(h, 2)} h" if h else "now") for h in marks)


def _tracks(curves: Sequence[Curve], field: Field, scale: Scale) -> tuple[Track, ...]:
    """Curves with their end words, which are kept apart from one another."""
    wanted = [field.y(c.mid[-1]) for c in curves]
    order = sorted(range(len(curves)), key=lambda i: wanted[i])
    placed = spread([wanted[i] for i in order], LINE, field.top, field.bottom)
    ends = dict(zip(order, placed, strict=True))
    above = [i == order[0] for i in range(len(curves))]
    return tuple(
        replace(
            _track(c, field, _end(c, scale), ends[i]),
            name_y=min(
                max(ends[i] + (-LINE if above[i] else LINE), LINE / 2), field.bottom - LINE / 2
            ),
        )
        for i, c in enumerate(curves)
    )


def _track(curve: Curve, field: Field, end: str, end_y: float) -> Track:
    across = [field.x(h) for h in curve.hours]
    line, high, low = (
        list(zip(across, map(field.y, values), strict=True))
        for values in (curve.mid, curve.high, curve.low)
    )
    outline = (*high, *reversed(low))
    return Track(curve.mark, tuple(line), outline, end, end_y, curve.assumed)
