"""Fluids that could hang in the place of one that is lost, the nearest first. Pure."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

from app.catalogue.catalogue import Catalogue
from app.catalogue.fluid import Fluid
from app.catalogue.stock.counts import NOTHING_COUNTED, Counts
from app.catalogue.stock.stock import NOTHING_TOLD, Stock
from app.cautions.assess import Ruleset
from app.patient.case import Case
from app.patient.mixture import mixture
from app.patient.order import AdditiveDose, Order
from app.review.shortage.distance import Distance, distance
from app.review.shortage.draws import concentrates_of
from app.review.shortage.loss import Loss
from app.review.shortage.packs import Bags, bags_for
from app.review.way_out import WaysOut

CARRIES_A_DRUG: Final = "the bag carries a drug, whose label decides what else it may be given in"
MANY_BAGS: Final = "only as {bags} bags of {size:,.0f} mL in place of {before}"


@dataclass(frozen=True, slots=True)
class Means:
    """What a rehearsal is made with: fluids, rules, and what is told and counted of stock."""

    catalogue: Catalogue
    ruleset: Ruleset
    stock: Stock = NOTHING_TOLD
    counts: Counts = NOTHING_COUNTED


@dataclass(frozen=True, slots=True)
class Candidate:
    """One fluid in the place of another.

    order: the order with it. left_out: what is no longer put into the bag. bags: from which it is
    hung, None where no size is known. away: how far the bag is from the one ordered, additives
    counted. concentrate: what an additive is drawn up from now, where only that changes.
    """

    fluid: Fluid
    order: Order
    left_out: tuple[AdditiveDose, ...]
    bags: Bags | None
    away: Distance
    concentrate: Fluid | None = None


@dataclass(frozen=True, slots=True)
class Field:
    """Who could stand in. refused: fluids not proposed for the bags it would take, and why.

    why_none: why nothing can be sought at all; empty where it can.
    """

    candidates: tuple[Candidate, ...] = ()
    refused: tuple[tuple[Fluid, str], ...] = ()
    why_none: str = ""


def field_of(order: Order, case: Case, loss: Loss, means: Means) -> Field:
    """Every fluid of the same sort that is neither lost, out, withdrawn nor counted as none, the
    nearest first; of those as near, what is on the ward.

    A mixture is held against the mixture ordered, so that a premixed bag stands in for one with
    potassium put in. Several bags in the place of fewer are refused unless the loss allows them.
    """
    if order.fluid is None or order.candidates:
        return Field(why_none="which fluid is meant must be settled first")
    if order.mix is None:
        return Field(why_none="what was put into the bag is not understood")
    kept: dict[tuple[object, ...], Candidate] = {}
    refused: list[tuple[Fluid, str]] = []
    for one in sorted(_all(order, case, loss, means), key=lambda one: _rank(one, means.stock)):
        why = "" if loss.smaller else _too_many(order, one)
        if why:
            refused.append((one.fluid, why))
        else:
            kept.setdefault((one.order.mix, one.concentrate), one)
    why_none = CARRIES_A_DRUG if order.carries_a_drug and not kept else ""
    return Field(tuple(kept.values()), tuple(refused), why_none)


def lost_doses(order: Order, loss: Loss, catalogue: Catalogue) -> tuple[AdditiveDose, ...]:
    """What is put into the bag and drawn up from a concentrate that is lost."""
    return tuple(dose for dose in order.additives if _is_lost(dose, loss, catalogue))


def _is_lost(dose: AdditiveDose, loss: Loss, catalogue: Catalogue) -> bool:
    made_from = concentrates_of(dose, catalogue)
    if not made_from:
        return False
    concentrate, ml = made_from[0]
    bags = bags_for(ml, concentrate.pack_sizes_ml)
    return loss.has(concentrate.id, None if bags is None else bags.size_ml)


def _all(order: Order, case: Case, loss: Loss, means: Means) -> Iterator[Candidate]:
    """Every way to hang something else; an additive that is lost is never just left out, but a
    premixed bag may bring it. A bag that carries a drug keeps its fluid: only the drug's label
    says what else it may be given in.
    """
    assert order.fluid is not None
    gone = lost_doses(order, loss, means.catalogue)
    potassium = tuple(dose for dose in order.additives if dose.added.potassium_mmol_l)
    ways = WaysOut(order, case, means.catalogue, means.ruleset, means.stock)
    fluid_lost = is_fluid_lost(order, loss)
    if order.carries_a_drug:
        yield from _with(order, order.fluid, (), loss, means) if not gone else ()
        return
    if potassium and (fluid_lost or gone) and set(gone) <= set(potassium):
        for fluid in ways.stand_ins(premixed=True):
            yield from _with(order, fluid, potassium, loss, means)
    if gone and not fluid_lost:
        yield from _drawn_otherwise(order, gone, loss, means)
    elif not gone:
        for fluid in (order.fluid, *ways.stand_ins()):
            yield from _with(order, fluid, (), loss, means)


def is_fluid_lost(order: Order, loss: Loss) -> bool:
    """Whether the bags that an order is hung from are lost."""
    if order.fluid is None:
        return False
    bags = bags_for(order.volume_ml, order.fluid.pack_sizes_ml)
    return loss.has(order.fluid.id, None if bags is None else bags.size_ml)


def _with(
    order: Order, fluid: Fluid, left_out: tuple[AdditiveDose, ...], loss: Loss, means: Means
) -> Iterator[Candidate]:
    """The order with another fluid; nothing where that fluid cannot be had."""
    sizes = loss.left_sizes(fluid)
    if loss.is_whole(fluid.id) or (not sizes and fluid.pack_sizes_ml):
        return
    if not _is_there(fluid, loss, means):
        return
    kept = tuple(dose for dose in order.additives if dose not in left_out)
    mix = mixture(fluid, kept, order.volume_ml)
    if mix is None or order.mix is None:
        return
    with_it = replace(order, written=fluid.name, fluid=fluid, additives=kept, mix=mix)
    bags = bags_for(order.volume_ml, sizes)
    yield Candidate(fluid, with_it, left_out, bags, distance(order.mix, mix))


def _drawn_otherwise(
    order: Order, gone: tuple[AdditiveDose, ...], loss: Loss, means: Means
) -> Iterator[Candidate]:
    """The same bag with the same additive from another concentrate, where there is one."""
    assert order.fluid is not None
    assert order.mix is not None
    if len(gone) > 1:
        return
    for other, _ in concentrates_of(gone[0], means.catalogue)[1:]:
        if _is_there(other, loss, means) and loss.left_sizes(other):
            bags = bags_for(order.volume_ml, order.fluid.pack_sizes_ml)
            yield Candidate(order.fluid, order, (), bags, distance(order.mix, order.mix), other)


def _is_there(fluid: Fluid, loss: Loss, means: Means) -> bool:
    """Neither out, withdrawn nor counted as none; and told of at all, where that is asked for."""
    if not means.stock.may_offer(fluid.id) or means.counts.none_left(fluid):
        return False
    told = means.stock.of(fluid.id).is_known or means.counts.litres(fluid) is not None
    return told or not loss.told_only


def _too_many(order: Order, one: Candidate) -> str:
    """Why the bags are not proposed: more of them than the order takes as it is; empty if not."""
    assert order.fluid is not None
    now = bags_for(order.volume_ml, order.fluid.pack_sizes_ml)
    if one.bags is None or now is None or one.bags.bags <= now.bags:
        return ""
    before = "one" if now.bags == 1 else str(now.bags)
    return MANY_BAGS.format(bags=one.bags.bags, size=one.bags.size_ml, before=before)


def _rank(one: Candidate, stock: Stock) -> tuple[float, int, str]:
    return one.away.value, stock.rank(one.fluid.id), one.fluid.id
