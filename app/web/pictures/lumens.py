"""Lumens over time: where every bar, gap, notch and word stands. Pure geometry.

A lumen is a heading with a lane for each infusion under it; time runs right.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import ceil
from typing import Final, Literal

Fill = Literal["fluid", "kept", "dose", "blood"]
Span = tuple[int, int]

WIDE: Final = 960.0
# From here down a picture is for a hand: words stand above their bars, hours are fewer.
NARROW_TO: Final = 600.0
LETTER: Final = 7.2
PAD: Final = 6.0
HEAD: Final = 28.0
TOP: Final = 26.0
BAR: Final = 22.0
LANE: Final = 28.0
WORDS_ABOVE: Final = 18.0
BETWEEN: Final = 16.0
NOTCH: Final = 11.0
MINUTES_PER_HOUR: Final = 60
HOURS_WIDE: Final = 1
HOURS_NARROW: Final = 3
# An hour nearer to now than this has no room for its words.
CLEAR_OF_NOW: Final = 44.0
# Only a plain bar can be read through.
READ_THROUGH: Final = ("fluid", "kept")
CUT: Final = "…"


@dataclass(frozen=True, slots=True)
class Lane:
    """One infusion on a lumen: when it runs and when it stands still, min from now."""

    name: str
    fill: Fill
    runs: tuple[Span, ...]
    gaps: tuple[Span, ...] = ()


@dataclass(frozen=True, slots=True)
class Row:
    """One lumen in words, its infusions, and the minutes at which it is flushed."""

    name: str
    lanes: tuple[Lane, ...]
    flushes: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Bar:
    """A drawn run or pause."""

    x: float
    y: float
    width: float
    title: str


@dataclass(frozen=True, slots=True)
class DrawnLane:
    """A drawn infusion: its bars and gaps, and its name with where it stands.

    inside: the name stands in a bar.
    """

    fill: Fill
    bars: tuple[Bar, ...]
    gaps: tuple[Bar, ...]
    word: str
    word_x: float
    word_y: float
    inside: bool
    name: str


@dataclass(frozen=True, slots=True)
class Notch:
    """A drawn flush, from the top of its lumen's lanes to the mark under them."""

    x: float
    top: float
    bottom: float
    title: str

    @property
    def points(self) -> str:
        """The mark under it."""
        half, foot = NOTCH / 2, self.bottom + NOTCH
        return (
            f"{self.x - half:.1f},{foot:.1f} {self.x + half:.1f},{foot:.1f} "
            f"{self.x:.1f},{self.bottom:.1f}"
        )


@dataclass(frozen=True, slots=True)
class DrawnRow:
    """A drawn lumen. line_y: the line that it stands under."""

    name: str
    line_y: float
    name_y: float
    lanes: tuple[DrawnLane, ...]
    notches: tuple[Notch, ...]


@dataclass(frozen=True, slots=True)
class Tick:
    """An hour: where, and its words, empty where there is no room."""

    x: float
    words: str


@dataclass(frozen=True, slots=True)
class Drawing:
    """Everything drawn, in units of the picture."""

    width: float
    height: float
    left: float
    right: float
    top: float
    bar: float
    ticks: tuple[Tick, ...]
    rows: tuple[DrawnRow, ...]


@dataclass(frozen=True, slots=True)
class _Field:
    width: float
    horizon_min: int

    @property
    def narrow(self) -> bool:
        return self.width <= NARROW_TO

    def x(self, at_min: float) -> float:
        return PAD + (self.width - 2 * PAD) * at_min / self.horizon_min

    @property
    def lane(self) -> float:
        return LANE + WORDS_ABOVE if self.narrow else LANE


def draw(
    rows: Sequence[Row], horizon_min: int, now_min_of_day: int, width: float = WIDE
) -> Drawing:
    """The picture of these lumens from now to the horizon.

    now_min_of_day: minutes since midnight, by which hours are marked. Raises ValueError without
    any time ahead.
    """
    if horizon_min <= 0:
        raise ValueError("a plan of some length is needed")
    field, y, drawn = _Field(width, horizon_min), TOP, list[DrawnRow]()
    for row in rows:
        drawn.append(_row(row, field, y))
        y += HEAD + max(1, len(row.lanes)) * field.lane + BETWEEN
    return Drawing(
        width=width, height=y, left=field.x(0), right=field.x(horizon_min), top=TOP, bar=BAR,
        ticks=tuple(_ticks(field, now_min_of_day)), rows=tuple(drawn),
    )  # fmt: skip


def _ticks(field: _Field, now_min_of_day: int) -> Iterator[Tick]:
    yield Tick(field.x(0), "now")
    step = (HOURS_NARROW if field.narrow else HOURS_WIDE) * MINUTES_PER_HOUR
    first = ceil((now_min_of_day + 1) / step) * step
    for at in range(first, now_min_of_day + field.horizon_min + 1, step):
        x = field.x(at - now_min_of_day)
        hour = at // MINUTES_PER_HOUR % 24
        clear = x - field.x(0) >= CLEAR_OF_NOW
        yield Tick(x, f"{hour:02d}:00" if clear else "")


def _row(row: Row, field: _Field, y: float) -> DrawnRow:
    first = y + HEAD
    lanes = tuple(
        _lane(lane, field, first + number * field.lane) for number, lane in enumerate(row.lanes)
    )
    bottom = first + max(1, len(lanes)) * field.lane - (LANE - BAR)
    # In a hand, words stand above their bars: a mark as high as the lanes would strike them out.
    top = bottom - NOTCH if field.narrow else first
    notches = tuple(Notch(field.x(at), top, bottom, "flush") for at in row.flushes)
    return DrawnRow(row.name, y, y + HEAD / 2 + 2, lanes, notches)


def _lane(lane: Lane, field: _Field, y: float) -> DrawnLane:
    top = y + WORDS_ABOVE if field.narrow else y
    bars = tuple(_bar(span, field, top, lane.name) for span in lane.runs)
    gaps = tuple(_bar(span, field, top, f"{lane.name}: stands still") for span in lane.gaps)
    placed = DrawnLane(lane.fill, bars, gaps, lane.name, PAD, top + BAR / 2, False, lane.name)
    if field.narrow:
        return replace(placed, word_x=2 * PAD, word_y=y + WORDS_ABOVE / 2)
    return _named(placed, field)


def _bar(span: Span, field: _Field, y: float, title: str) -> Bar:
    start, end = field.x(span[0]), field.x(span[1])
    return Bar(start, y, max(2.0, end - start), title)


def _named(lane: DrawnLane, field: _Field) -> DrawnLane:
    """Its name in the first bar that holds it, else beside one, else on or beside the longest."""
    wide = LETTER * len(lane.name) + 2 * PAD
    if lane.fill in READ_THROUGH:
        roomy = next((bar for bar in lane.bars if bar.width >= wide), None)
        if roomy is not None:
            return replace(lane, word_x=roomy.x + PAD, inside=True)
    spaces = _spaces(lane, field)
    beside = next((left for left, right in spaces if right - left >= wide), None)
    if beside is not None:
        return replace(lane, word_x=beside + PAD)
    # Over a patterned bar a name is read by the ground that is drawn round it.
    rooms = [*spaces, *((bar.x, bar.x + bar.width) for bar in lane.bars)]
    left, right = max(rooms, key=lambda room: room[1] - room[0])
    most = int((right - left - 2 * PAD) / LETTER)
    cut = lane.name if len(lane.name) <= most else lane.name[: max(0, most - 1)] + CUT
    return replace(lane, word=cut, word_x=left + PAD)


def _spaces(lane: DrawnLane, field: _Field) -> list[tuple[float, float]]:
    """What is free in a lane, after its bars first, then before them."""
    every = sorted((*lane.bars, *lane.gaps), key=lambda bar: bar.x)
    if not every:
        return [(field.x(0), field.x(field.horizon_min))]
    between = [(one.x + one.width, other.x) for one, other in pairwise(every)]
    after = (every[-1].x + every[-1].width, field.x(field.horizon_min))
    return [*between, after, (field.x(0), every[0].x)]
