"""Bags, days and distances of a shortage in words."""

import math
from collections.abc import Iterable, Mapping
from datetime import datetime, timedelta
from typing import Final

from app.catalogue.fluid import ML_PER_L, Fluid
from app.catalogue.stock.counts import IN_WORDS, Counts
from app.review.shortage.distance import Distance, Term
from app.review.shortage.loss import SIZE_MARK, Loss
from app.review.shortage.packs import Bags
from app.web.show import amount, clock, count, day, number

LARGEST_TERMS: Final = 4
SAME: Final = "holds the same"
NOT_COUNTED: Final = "nobody has counted"
NOT_USED: Final = "not used here"
ALL_PERCENT: Final = 100


def lost_name(key: str, fluid: Fluid) -> str:
    """What is lost, from an address's key: the fluid, or one size of it."""
    _, mark, size = key.partition(SIZE_MARK)
    return f"{size_text(float(size))} bags of {fluid.name}" if mark else fluid.name


def size_text(size_ml: float) -> str:
    """A pack size: "1,000 mL"."""
    return amount(size_ml, "mL")


def share_text(loss: Loss) -> str:
    """How much is lost, and of what."""
    much = "all" if loss.share == 1 else f"{number(loss.share * ALL_PERCENT)}% of"
    of = "deliveries and what is here" if loss.shelf_too else "deliveries"
    return f"{much} {of}"


def bags_text(bags: Mapping[float, float]) -> str:
    """Bags by size, the largest first: "8.3 of 1,000 mL, 1 of 500 mL"; empty for none."""
    each = sorted(bags.items(), reverse=True)
    return ", ".join(f"{number(much)} of {size_text(size)}" for size, much in each)


def hung_text(bags: Bags | None, volume_ml: float | None) -> str:
    """What is hung for one volume: "1,000 mL bag", "500 mL of a 1,000 mL bag", "2 x 500 mL"."""
    if bags is None:
        return "no bag size known"
    if bags.bags > 1:
        return f"{bags.bags} bags of {size_text(bags.size_ml)}"
    if volume_ml and volume_ml < bags.size_ml:
        return f"{size_text(volume_ml)} of a {size_text(bags.size_ml)} bag"
    return f"{size_text(bags.size_ml)} bag"


def counted_text(fluid: Fluid, counts: Counts, now: datetime) -> str:
    """What was counted of a fluid, by size and place, and when first of these."""
    lines = []
    for size in sorted(fluid.pack_sizes_ml, reverse=True):
        found = counts.of_size(fluid.id, size)
        if found:
            where = " and ".join(f"{one.bags} {IN_WORDS[one.place]}" for one in found)
            when = min(one.at for one in found)
            lines.append(f"{size_text(size)}: {where} ({clock(when, now)})")
    return "; ".join(lines) or NOT_COUNTED


def sizes_text(days_of_size: Mapping[float, float | None]) -> str:
    """How long each size lasts: "1,000 mL: 6.5 days; 100 mL: nobody has counted"."""
    each = sorted(days_of_size.items(), reverse=True)
    return "; ".join(f"{size_text(size)}: {_days_or_not(days)}" for size, days in each)


def _days_or_not(days: float | None) -> str:
    return NOT_COUNTED if days is None else count_days(days)


def days_text(days: float | None, starts: datetime) -> str:
    """How long something lasts and until when: "5.7 days, to Mon 10 Mar"."""
    if days is None:
        return f"not known: {NOT_COUNTED}"
    if math.isinf(days):
        return NOT_USED
    if not days:
        return "none left"
    try:
        until = f", to {day(starts + timedelta(days=days))}"
    except OverflowError:
        until = ""
    return f"{count_days(days)}{until}"


def count_days(days: float) -> str:
    """ "1 day", "5.7 days"."""
    text = number(days)
    return f"{text} day" if text == "1" else f"{text} days"


def litres_text(ml: float) -> str:
    """A day's use: "9.5 L", "240 mL"."""
    return amount(ml / ML_PER_L, "L", 2) if ml >= ML_PER_L else amount(ml, "mL", 0)


def differs_text(away: Distance) -> str:
    """What counts most in a distance: "potassium 4 instead of 0 mmol/L, …"."""
    told = [_term(term) for term in away.terms[:LARGEST_TERMS]]
    more = len(away.terms) - LARGEST_TERMS
    rest = [f"{count(more, 'smaller difference')}"] if more > 0 else []
    unsaid = [f"{name} not on a label, left out" for name in away.left_out]
    return ", ".join((*told, *rest, *unsaid)) or SAME


def _term(term: Term) -> str:
    weight = term.weight
    return f"{weight.name} {number(term.second)} instead of {number(term.first)} {weight.unit}"


def joined(parts: Iterable[str], mark: str = "; ") -> str:
    """The parts that say something, with a mark between them."""
    return mark.join(part for part in parts if part)
