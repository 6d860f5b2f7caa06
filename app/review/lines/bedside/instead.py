"""Other fluids of the catalogue without the clash, each reviewed in the order's place. Pure."""

from collections.abc import Iterator, Sequence
from typing import Final

from app.catalogue.fluid import Fluid
from app.lines.flush import SALINE
from app.lines.model import KeepApart
from app.lines.ways import Replacement
from app.patient.case import Case
from app.patient.order import Order
from app.review.lines.bedside.doing.surge import SURGE
from app.review.lines.bedside.problem import Bedside, Item, Means, apart_by_item
from app.review.pairs.apart import keep_apart_in
from app.review.way_out import WaysOut

# Nearest first; each costs a review.
OFFERED: Final = 2
TRIED: Final = 12


def replacements_of(
    case: Case, means: Means, bedside: Bedside, clash: Sequence[str]
) -> tuple[Replacement, ...]:
    """For each fluid order in a clash the nearest fluids that part it from fewer of the others,
    and with which the review finds nothing new that is loud.
    """
    members = [item for item in bedside.items if item.id in clash]
    return tuple(
        replacement
        for item in members
        if isinstance(item.of, Order) and item.of.fluid is not None
        for replacement in _for(item, case, means, bedside)
    )


def _for(item: Item, case: Case, means: Means, bedside: Bedside) -> Iterator[Replacement]:
    assert isinstance(item.of, Order)
    ways = WaysOut(item.of, case, means.catalogue, means.ruleset, means.stock)
    now = _pairs(case, means, bedside, item)
    found = 0
    for fluid in ways.stand_ins()[:TRIED]:
        with_it = ways.case_with(fluid)
        pairs = _pairs(with_it, means, bedside, item)
        shares = _with_blood(fluid, item.of, bedside)
        if (len(pairs) < len(now) or shares) and ways.brings_nothing(fluid):
            yield Replacement(item.id, fluid.name, pairs, shares)
            found += 1
        if found == OFFERED:
            return


def _pairs(case: Case, means: Means, bedside: Bedside, item: Item) -> tuple[KeepApart, ...]:
    """What an item must not meet."""
    surges = (pair for pair in bedside.apart if pair.why.startswith(SURGE))
    apart = (*keep_apart_in(case, means.book), *surges)
    mine = (pair for pair in apart if item.source in pair[:2])
    return tuple(rule for rule in apart_by_item(mine, bedside.items) if item.id in rule.pair)


def _with_blood(fluid: Fluid, order: Order, bedside: Bedside) -> frozenset[str]:
    """The blood that plain 0.9% sodium chloride may run beside."""
    if fluid.id != SALINE.id or order.additives:
        return frozenset()
    return frozenset(one.id for one in bedside.problem.infusions if one.exclusive)
