"""Changes predicted against changes measured: a mark a row, equality, and the bar's corridor."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import cos, pi, sin
from types import MappingProxyType
from typing import Final

from app.web.pictures.curves import MOST_STEPS, Point, Tick, steps
from app.web.pictures.field import LETTER, PAD
from app.web.show import number

WIDTH: Final = 360.0
TOP: Final = 24.0
FOOT: Final = 46.0
RADIUS: Final = 5.5
# A triangle or star of the same radius as a circle looks smaller.
POINTED: Final = 1.2
TRIANGLE: Final = 3
# Side of the square in which the key shows a mark.
KEY: Final = 16.0
DIGITS: Final = 9
CORNERS_OF_A_CIRCLE: Final = 16
QUARTER: Final = pi / 2


def _corners(count: int, turned: float = 0.0, inner: float | None = None) -> tuple[Point, ...]:
    """Corners on a circle, the first at the top; with `inner` every second one lies nearer."""
    outer = POINTED if count == TRIANGLE or inner else 1.0
    radii = (outer, inner or outer)
    angles = [turned - QUARTER + 2 * pi * place / count for place in range(count)]
    return tuple((radii[i % 2] * cos(a), radii[i % 2] * sin(a)) for i, a in enumerate(angles))


def _cross(turned: float) -> tuple[Point, ...]:
    """A plus with arms a third as wide as it is, turned by an angle."""
    near = 0.36
    arm = ((-near, -1.0), (near, -1.0), (near, -near))
    whole = [_turn(point, quarter * QUARTER + turned) for quarter in range(4) for point in arm]
    return tuple(whole)


def _turn(point: Point, angle: float) -> Point:
    x, y = point
    return x * cos(angle) - y * sin(angle), x * sin(angle) + y * cos(angle)


# Told apart without colour; of length 1 about the middle. Salt has even shapes, what draws water
# points up, what thins points down, what holds water in plasma has many corners.
SHAPES: Final[Mapping[str, tuple[Point, ...]]] = MappingProxyType(
    {
        "saline": _corners(CORNERS_OF_A_CIRCLE),
        "balanced": _corners(4, pi / 4),
        "hypotonic": _corners(TRIANGLE, pi / 3),
        "dextrose": ((-1.0, -0.5), (1.0, -0.5), (1.0, 0.5), (-1.0, 0.5)),
        "hypertonic": _corners(TRIANGLE),
        "lactate": _corners(TRIANGLE, QUARTER),
        "bicarbonate": _corners(4),
        "potassium": _cross(0.0),
        "mannitol": _cross(pi / 4),
        "albumin": _corners(6),
        "strong_albumin": _corners(10, inner=0.45),
        "colloid": ((-0.5, -1.0), (0.5, -1.0), (0.5, 1.0), (-0.5, 1.0)),
    }
)


@dataclass(frozen=True, slots=True)
class Pair:
    """One row: what was measured and predicted, its kind of fluid (of SHAPES), how it is drawn
    (`style`, the end of a class name), what it says when pointed at, and where its row stands.
    """

    kind: str
    measured: float
    predicted: float
    style: str
    title: str
    href: str


@dataclass(frozen=True, slots=True)
class Mark:
    """A drawn row."""

    corners: tuple[Point, ...]
    style: str
    title: str
    href: str


@dataclass(frozen=True, slots=True)
class Cloud:
    """Everything drawn, in units of the picture; left to bottom bound the field, a square."""

    left: float
    right: float
    top: float
    bottom: float
    across: tuple[Tick, ...]
    up: tuple[Tick, ...]
    zero: Point | None
    corridor: tuple[Point, ...]
    marks: tuple[Mark, ...]
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class _Field:
    """A square with the same scale either way."""

    left: float
    bottom: float
    side: float
    low: float
    high: float

    def place(self, measured: float, predicted: float) -> Point:
        share = self.side / (self.high - self.low)
        across = self.left + (measured - self.low) * share
        return across, self.bottom - (predicted - self.low) * share


def scatter(pairs: Sequence[Pair], bar: float | None) -> Cloud:
    """The picture of one quantity. bar: how far off is still within our bar; None where none is.

    Zero is always in the field. Raises ValueError without a pair.
    """
    if not pairs:
        raise ValueError("a pair is needed")
    ticks = steps(*_range(pairs, bar), MOST_STEPS)
    field = _field(ticks)
    right, top = field.left + field.side, field.bottom - field.side
    return Cloud(
        left=field.left, right=right, top=top, bottom=field.bottom,
        across=tuple(Tick(field.place(v, v)[0], number(v, DIGITS)) for v in ticks),
        up=tuple(Tick(field.place(v, v)[1], number(v, DIGITS)) for v in ticks),
        zero=field.place(0.0, 0.0) if ticks[0] < 0 < ticks[-1] else None,
        corridor=_corridor(field, bar) if bar else (),
        marks=tuple(_mark(pair, field) for pair in pairs),
        width=WIDTH, height=field.bottom + FOOT,
    )  # fmt: skip


def key_mark(kind: str) -> tuple[Point, ...]:
    """The mark of a kind of fluid in the middle of a small square for the key."""
    return _drawn(kind, (KEY / 2, KEY / 2))


def _range(pairs: Sequence[Pair], bar: float | None) -> tuple[float, float]:
    """From the least to the most of what was measured or predicted, zero among them."""
    values = [value for pair in pairs for value in (pair.measured, pair.predicted)]
    low, high = min(0.0, *values), max(0.0, *values)
    wanting = max(0.0, 2 * (bar or 0.0) - (high - low)) / 2
    room = wanting or (0.0 if high > low else 1.0)
    return low - room, high + room


def _field(ticks: Sequence[float]) -> _Field:
    """Room is left for the longest word of the upright axis, so that none is cut."""
    left = PAD + LETTER * max(len(number(v, DIGITS)) for v in ticks)
    side = WIDTH - PAD - left
    return _Field(left, TOP + side, side, ticks[0], ticks[-1])


def _corridor(field: _Field, bar: float) -> tuple[Point, ...]:
    """The outline of all places no further than the bar from equality, cut to the field."""
    low, high = field.low, field.high
    reach = min(bar, high - low)
    corners = (
        (low, low), (low, low + reach), (high - reach, high),
        (high, high), (high, high - reach), (low + reach, low),
    )  # fmt: skip
    return tuple(field.place(*corner) for corner in corners)


def _mark(pair: Pair, field: _Field) -> Mark:
    middle = field.place(pair.measured, pair.predicted)
    return Mark(_drawn(pair.kind, middle), pair.style, pair.title, pair.href)


def _drawn(kind: str, middle: Point) -> tuple[Point, ...]:
    return tuple((middle[0] + RADIUS * x, middle[1] + RADIUS * y) for x, y in SHAPES[kind])
