"""What is lost, what everybody turns to, and what saves, as rows."""

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime

from app.catalogue.source import NO_SOURCE, Source
from app.catalogue.stock.counts import Counts
from app.review.shortage.draws import Use
from app.review.shortage.lasting import Lasting, Turned, days_of, whole_bags
from app.review.shortage.loss import Loss
from app.review.shortage.rehearsal import Kept, Rehearsal
from app.review.shortage.saving import MEASURES, NOT_TWO_SMALL, Measure
from app.web.shortage.words import (
    bags_text,
    count_days,
    counted_text,
    days_text,
    joined,
    litres_text,
    size_text,
    sizes_text,
)
from app.web.show import capital, count


@dataclass(frozen=True, slots=True)
class UseRow:
    """One fluid in use. keys: what may be picked, (key, words): the fluid, then each of its sizes.

    days: how long what is counted lasts with no delivery at all.
    """

    fluid_id: str
    name: str
    keys: tuple[tuple[str, str], ...]
    drawn: str
    ml_day: str
    bags: str
    counted: str
    days: str


@dataclass(frozen=True, slots=True)
class LostRow:
    """One lost fluid. sizes: which, where not all. needed: whole bags for the days planned.
    by_size: how long each size in use lasts. keep: for whom what is left is kept.
    """

    fluid_id: str
    name: str
    sizes: str
    ml_day: str
    bags: str
    counted: str
    days: str
    by_size: str
    needed: str
    keep: str


@dataclass(frozen=True, slots=True)
class TurnedRow:
    """One fluid that orders turn to. second: that it runs out within the days planned."""

    fluid_id: str
    name: str
    orders: str
    ml_day: str
    bags: str
    needed: str
    now: str
    counted: str
    days: str
    alone: str
    second: bool


@dataclass(frozen=True, slots=True)
class SavingRow:
    """One measure, where it is from, and for how many orders here it is to be asked."""

    words: str
    source: str
    here: str


def use_row(use: Use, counts: Counts, now: datetime) -> UseRow:
    """One fluid in use now."""
    fluid = use.fluid
    sizes = [(f"{fluid.id}@{size}", f"only {size_text(size)}") for size in fluid.pack_sizes_ml]
    drawn = joined(
        (
            count(use.orders, "order") if use.orders else "",
            f"put into {count(use.additives, 'bag')}" if use.additives else "",
            f"carries {count(use.carriers, 'drug')}" if use.carriers else "",
        ),
        ", ",
    )
    litres = counts.litres(fluid)
    return UseRow(
        fluid_id=fluid.id,
        name=fluid.name,
        keys=((fluid.id, fluid.name), *(sizes if len(sizes) > 1 else ())),
        drawn=drawn,
        ml_day=f"{_at_least(use)}{litres_text(use.ml_day)}",
        bags=bags_text(use.bags_day),
        counted=counted_text(fluid, counts, now),
        days="" if litres is None else count_or_unused(days_of(litres, use.ml_day)),
    )


def count_or_unused(days: float | None) -> str:
    """Days in words; nothing where none can be told."""
    return "" if days is None or math.isinf(days) else count_days(days)


def _at_least(use: Use) -> str:
    return "at least " if use.is_at_least else ""


def lost_rows(rehearsal: Rehearsal[str], counts: Counts, now: datetime) -> tuple[LostRow, ...]:
    """Each lost fluid."""
    kept = {one.fluid_id: one for one in rehearsal.kept}
    return tuple(_lost(one, rehearsal.loss, counts, now, kept) for one in rehearsal.lasting)


def _lost(
    one: Lasting, loss: Loss, counts: Counts, now: datetime, kept: Mapping[str, Kept]
) -> LostRow:
    sizes = "" if loss.is_whole(one.fluid.id) else ", ".join(map(size_text, one.sizes))
    at_least = "at least " if one.not_counted and one.days is not None else ""
    return LostRow(
        fluid_id=one.fluid.id,
        name=one.fluid.name,
        sizes=sizes and f"only bags of {sizes}",
        ml_day=f"{_at_least(one.use)}{litres_text(one.use.ml_day)}",
        bags=bags_text(one.use.bags_day),
        counted=counted_text(one.fluid, counts, now),
        days=f"{at_least if one.use.ml_day else ''}{days_text(one.days, loss.starts)}",
        by_size=sizes_text(one.days_of_size) if len(one.days_of_size) > 1 else "",
        needed=bags_text(one.bags_for(loss.days)),
        keep=_keep(kept.get(one.fluid.id), loss.starts),
    )


def _keep(one: Kept | None, starts: datetime) -> str:
    if one is None:
        return ""
    orders = count(one.orders, "order has", "orders have")
    lasts = days_text(one.days, starts)
    return (
        f"{capital(orders)} no substitute without a new critical caution, or none at all: keep "
        f"what is left for them. They take {litres_text(one.ml_day)} a day; for them alone it "
        f"lasts: {lasts}."
    )


def turned_rows(
    turned: Iterable[Turned], loss: Loss, counts: Counts, now: datetime
) -> tuple[TurnedRow, ...]:
    """What each substitute has to bear when everybody turns to their first offer."""
    return tuple(
        TurnedRow(
            fluid_id=one.fluid.id,
            name=one.fluid.name,
            orders=count(one.orders, "order"),
            ml_day=litres_text(one.extra_ml_day),
            bags=bags_text(one.bags_day),
            needed=bags_text(whole_bags(one.bags_day, loss.days)),
            now=litres_text(one.now_ml_day) if one.now_ml_day else "",
            counted=counted_text(one.fluid, counts, now),
            days=days_text(one.days, loss.starts),
            alone=count_or_unused(one.days_alone) if one.now_ml_day else "",
            second=one.is_short_within(loss.days),
        )
        for one in turned
    )


def saving_rows(rehearsal: Rehearsal[str]) -> tuple[SavingRow, ...]:
    """The measures, with how many of the orders affected each is to be asked of."""
    measures = MEASURES if rehearsal.loss.smaller else (*MEASURES, NOT_TWO_SMALL)
    return tuple(_saving(one, rehearsal) for one in measures)


def _saving(measure: Measure, rehearsal: Rehearsal[str]) -> SavingRow:
    orders = sum(measure.key in one.measures for one in rehearsal.orders)
    here = f"{capital(count(orders, 'order'))} here." if measure.here else ""
    if measure.key == "carriers" and rehearsal.drugs:
        here = f"{capital(count(len(rehearsal.drugs), 'drug'))} here."
    return SavingRow(measure.words, source_text(measure.source), here)


def source_text(source: Source) -> str:
    """Where something is from, and whether the text was seen."""
    if source.work == NO_SOURCE:
        return NO_SOURCE
    seen = (source.place or "text seen") if source.seen else "from memory"
    return f"{source.work} ({seen})"
