"""How long what has been counted lasts: of what is lost, and of what everybody turns to. Pure."""

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from app.catalogue.fluid import ML_PER_L, Fluid
from app.catalogue.stock.counts import Counts
from app.review.shortage.draws import Draw, Use, use_of
from app.review.shortage.loss import Loss

DAYS_FORMULA: Final = "days left = what is counted ÷ (use per day × share lost)"
DAYS_ASSUME: Final = (
    "Deliveries that are not lost are taken to cover their share of the use, and use to go on as "
    "now; bags that hang already are not counted."
)


@dataclass(frozen=True, slots=True)
class Lasting:
    """One lost fluid: what is used of the sizes lost, what is counted of them, and for how long.

    counted_l: None where nobody counted any. not_counted: lost sizes that nobody counted, mL, so
    that the days are at least. days: from the loss on; None where they cannot be told, and endless
    where nothing is used. days_of_size: the same of each size in use, None where not counted.
    """

    fluid: Fluid
    sizes: tuple[int, ...]
    use: Use
    counted_l: float | None
    not_counted: tuple[int, ...]
    days: float | None
    days_of_size: Mapping[float, float | None]

    def bags_for(self, days: int) -> Mapping[float, int]:
        """Whole bags that are used in so many days, by size, mL."""
        return whole_bags(self.use.bags_day, days)


def whole_bags(bags_day: Mapping[float, float], days: float) -> Mapping[float, int]:
    """Bags for so many days at this pace, whole ones."""
    return {size: math.ceil(round(bags * days, 6)) for size, bags in bags_day.items()}


def lasting(
    loss: Loss, draws: Iterable[Draw], counts: Counts, fluids: Iterable[Fluid]
) -> tuple[Lasting, ...]:
    """Each lost fluid, as the loss names them. draws: everything the unit takes from stock."""
    lost = [draw for draw in draws if loss.has(draw.fluid.id, draw.size_ml)]
    uses = use_of(lost)
    return tuple(_of(fluid, loss, uses.get(fluid.id, Use(fluid)), counts) for fluid in fluids)


def _of(fluid: Fluid, loss: Loss, use: Use, counts: Counts) -> Lasting:
    sizes = tuple(size for size in fluid.pack_sizes_ml if loss.has(fluid.id, size))
    left = 1 - loss.share if loss.shelf_too else 1.0
    counted = counts.litres(fluid, sizes)
    counted = None if counted is None else counted * left
    days_of_size = {}
    for size, each in use.bags_day.items():
        bags = counts.bags(fluid.id, int(size)) if size in sizes else None
        days_of_size[size] = None if bags is None else bags * left / (each * loss.share)
    uncounted = tuple(size for size in counts.not_counted(fluid) if size in sizes)
    days = days_of(counted, use.ml_day * loss.share)
    return Lasting(fluid, sizes, use, counted, uncounted, days, MappingProxyType(days_of_size))


def days_of(counted_l: float | None, ml_day: float) -> float | None:
    """Days that so much lasts; endless where nothing is used, None where nobody counted."""
    if not ml_day:
        return math.inf
    return None if counted_l is None else counted_l * ML_PER_L / ml_day


@dataclass(frozen=True, slots=True)
class Turned:
    """One fluid to which orders turn: how many, what that takes in 24 h, and for how long.

    extra_ml_day, bags_day: what the switched orders take. now_ml_day: what is used of it already.
    days: what is counted over what is taken besides, its own deliveries going on; days_alone: over
    all of it, should they stop as well. None where nobody counted it.
    """

    fluid: Fluid
    orders: int
    extra_ml_day: float
    bags_day: Mapping[float, float]
    now_ml_day: float
    counted_l: float | None
    days: float | None
    days_alone: float | None

    def is_short_within(self, days: int) -> bool:
        """Whether it runs out itself within so many days: a second shortage."""
        return self.days is not None and self.days < days


def turned_to(
    switched: Iterable[Draw], draws: Iterable[Draw], counts: Counts
) -> tuple[Turned, ...]:
    """What everybody's first offer comes to, the most taken first.

    switched: what each order takes of the fluid it turns to.
    """
    now, extra = use_of(draws), use_of(switched)
    return tuple(_turned(use, now.get(key, Use(use.fluid)), counts) for key, use in extra.items())


def _turned(extra: Use, now: Use, counts: Counts) -> Turned:
    counted = counts.litres(extra.fluid)
    return Turned(
        fluid=extra.fluid,
        orders=extra.orders,
        extra_ml_day=extra.ml_day,
        bags_day=extra.bags_day,
        now_ml_day=now.ml_day,
        counted_l=counted,
        days=days_of(counted, extra.ml_day),
        days_alone=days_of(counted, extra.ml_day + now.ml_day),
    )
