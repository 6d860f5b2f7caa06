"""A picture a quantity: every row's change predicted against the change measured."""

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from app.review.trials.errors import BARS, QUANTITIES, by_quantity
from app.review.trials.fluids import KIND_NAMES
from app.review.trials.score import Point
from app.web.pictures.against import Cloud, Pair, key_mark, scatter
from app.web.show import capital, count, number

# How a row is drawn, in the order of drawing: what is held out lies on top.
STYLES: Final = {
    "told": "dotted outline: from memory or second hand",
    "set": "outline: helped to set the model",
    "held": "filled: held out",
}
NOT_A_NAME: Final = re.compile(r"[^a-z0-9]+")


@dataclass(frozen=True, slots=True)
class PictureView:
    """One quantity. spoken: the whole of it in one sentence; near: how many rows are within our
    bar; bar: what the corridor is.
    """

    key: str
    name: str
    unit: str
    spoken: str
    near: str
    bar: str
    cloud: Cloud


@dataclass(frozen=True, slots=True)
class KeyView:
    """One kind of fluid of the key, with its mark."""

    name: str
    corners: tuple[tuple[float, float], ...]


def picture_views(points: Iterable[Point]) -> Iterator[PictureView]:
    """A picture of each quantity that some row gives."""
    for quantity, some in by_quantity(points).items():
        name, unit, _ = QUANTITIES[quantity]
        bar = BARS.get(quantity)
        order = list(STYLES)
        ranked = sorted(some, key=lambda point: order.index(style_of(point)))
        yield PictureView(
            key=quantity,
            name=capital(name),
            unit=unit,
            spoken=_spoken(some),
            near=_near(some),
            bar=f"{number(bar, 2)} {unit}".strip() if bar else "",
            cloud=scatter([_pair(point) for point in ranked], bar),
        )


def key_views(points: Iterable[Point]) -> tuple[KeyView, ...]:
    """The kinds of fluid that some row was given."""
    given = {point.kind for point in points}
    return tuple(
        KeyView(name, key_mark(kind)) for kind, name in KIND_NAMES.items() if kind in given
    )


def style_of(point: Point) -> str:
    """Which of STYLES a row is drawn in."""
    if not point.seen:
        return "told"
    return "held" if point.held_out else "set"


def anchor_of(point: Point) -> str:
    """The name by which a row of the tables is found."""
    return "row-" + NOT_A_NAME.sub("-", f"{point.row} {point.quantity}".lower()).strip("-")


def change_words(value: float, places: int) -> str:
    """A change with its sign; one too small to show is "0"."""
    rounded = round(value, places)
    return "0" if not rounded else f"{'+' if rounded > 0 else ''}{number(rounded, places)}"


def _pair(point: Point) -> Pair:
    _, unit, places = QUANTITIES[point.quantity]
    measured, predicted = (change_words(v, places) for v in (point.measured, point.predicted))
    title = (
        f"{point.study}: {point.fluid}, {number(point.minutes)} min; "
        f"measured {measured}, predicted {predicted} {unit}".strip()
    )
    return Pair(
        point.kind, point.measured, point.predicted, style_of(point), title, f"#{anchor_of(point)}"
    )


def _spoken(points: Sequence[Point]) -> str:
    name, unit, places = QUANTITIES[points[0].quantity]
    values = [point.measured for point in points]
    least, most = (change_words(value, places) for value in (min(values), max(values)))
    measured = f"measured {least} to {most} {unit}".strip()
    return f"{capital(name)}: change predicted against change measured, {measured}; {_near(points)}"


def _near(points: Sequence[Point]) -> str:
    """How many rows are within our bar, where there is one."""
    quantity, rows = points[0].quantity, count(len(points), "row")
    bar = BARS.get(quantity)
    if bar is None:
        return f"{rows}, no bar set"
    near = sum(abs(point.off) <= bar for point in points)
    return f"{near} of {rows} within the bar of {number(bar, 2)} {QUANTITIES[quantity][1]}".strip()
