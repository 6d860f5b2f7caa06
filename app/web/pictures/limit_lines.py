"""Limits in a picture of curves: a line as long as each holds, its words clear of the others."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from app.web.pictures.field import AWAY, BESIDE, LETTER, LINE, PAD, Field
from app.web.pictures.spread import spread

CUT: Final = "…"


@dataclass(frozen=True, slots=True)
class Bound:
    """A limit between two moments, h from now, in words that stand beside it."""

    value: float
    from_h: float
    to_h: float
    words: str
    title: str


@dataclass(frozen=True, slots=True)
class LimitLine:
    """A drawn limit with its words beside the line; at_end: they end there, not begin."""

    x1: float
    x2: float
    y: float
    words: str
    words_x: float
    words_y: float
    at_end: bool
    title: str


def limit_lines(bounds: Sequence[Bound], field: Field) -> tuple[LimitLine, ...]:
    """Limits from the top down: words above the first, under the others, never over each other.

    One without words leads up to one that has them. Words begin with a line that goes all across,
    and end with one that only begins on the way, so that they keep clear of what came before.
    """
    order = sorted((b for b in bounds if b.words), key=lambda b: field.y(b.value))
    wanted = [field.y(b.value) + (AWAY if place else -AWAY) for place, b in enumerate(order)]
    placed = spread(wanted, LINE, LINE / 2, field.bottom) if order else ()
    room = field.right - field.left - 2 * PAD
    said = tuple(_limit_line(b, field, room, y) for b, y in zip(order, placed, strict=True))
    return (*said, *(_limit_line(b, field, room, field.top) for b in bounds if not b.words))


def _limit_line(bound: Bound, field: Field, room: float, words_y: float) -> LimitLine:
    at_end = bound.from_h > field.hours[0]
    return LimitLine(
        x1=field.x(bound.from_h),
        x2=field.x(bound.to_h),
        y=field.y(bound.value),
        words=_cut(bound.words, room),
        words_x=field.right - BESIDE if at_end else field.left + BESIDE,
        words_y=words_y,
        at_end=at_end,
        title=bound.title,
    )


def _cut(words: str, room: float) -> str:
    """Words that fit; the whole of them is in the mark's title."""
    most = int(room / LETTER)
    return words if len(words) <= most else words[: max(0, most - 1)] + CUT
