"""A loss rehearsed on a unit: orders, days, nearest fluids, and a second shortage. Pure."""

from collections.abc import Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Generic, TypeVar

from app.catalogue.vehicles.vehicle import NO_VEHICLES, Vehicles
from app.review.assess import Review
from app.review.shortage.affected import (
    Affected,
    AffectedDrug,
    affected_drugs,
    affected_orders,
)
from app.review.shortage.candidates import Means
from app.review.shortage.changes import Change, changes
from app.review.shortage.draws import Draw, Use, draws_of, use_of
from app.review.shortage.lasting import Lasting, Turned, days_of, lasting, turned_to
from app.review.shortage.loss import Loss
from app.review.shortage.offers import offers_of, reviewed_with
from app.review.shortage.packs import bags_a_day

Key = TypeVar("Key", bound=Hashable)


@dataclass(frozen=True, slots=True)
class Unit(Generic[Key]):
    """Everybody on a unit with what they take from stock, and what is used of each fluid."""

    beds: tuple[tuple[Key, Review, tuple[Draw, ...]], ...]

    @staticmethod
    def of(
        reviews: Iterable[tuple[Key, Review]], means: Means, vehicles: Vehicles = NO_VEHICLES
    ) -> "Unit[Key]":
        """From reviews by any key."""
        return Unit(
            tuple(
                (key, review, draws_of(review.case, means.catalogue, vehicles))
                for key, review in reviews
            )
        )

    @property
    def draws(self) -> tuple[Draw, ...]:
        """All that is taken from stock."""
        return tuple(draw for _, _, draws in self.beds for draw in draws)

    @property
    def use(self) -> Mapping[str, Use]:
        """What is used of each fluid in 24 h, the most used first."""
        return use_of(self.draws)


@dataclass(frozen=True, slots=True)
class Kept:
    """Orders for which nothing may be offered: what is left is kept for them.

    ml_day: what they take of the lost fluid together; days: for how long what is counted is
    enough for them alone, None where nobody counted.
    """

    fluid_id: str
    orders: int
    ml_day: float
    days: float | None


@dataclass(frozen=True, slots=True)
class Together(Generic[Key]):
    """A patient with several orders affected: what is new only when all of them switch at once."""

    key: Key
    new: tuple[Change, ...]


@dataclass(frozen=True, slots=True)
class Rehearsal(Generic[Key]):
    """All that is to be said of a loss. Nothing of it changes anything.

    lasting: each lost fluid. orders: those affected, those that will be over, those unclear. drugs:
    whose carrier is lost. turned: what everybody's first offer comes to. kept: by lost fluid what
    to keep for whom nothing may be offered. together: see Together.
    """

    loss: Loss
    lasting: tuple[Lasting, ...]
    orders: tuple[Affected[Key], ...]
    drugs: tuple[AffectedDrug[Key], ...]
    turned: tuple[Turned, ...]
    kept: tuple[Kept, ...]
    together: tuple[Together[Key], ...]

    def standing(self, standing: str) -> tuple[Affected[Key], ...]:
        """The orders that stand so."""
        return tuple(one for one in self.orders if one.standing == standing)


def rehearse(unit: Unit[Key], loss: Loss, means: Means) -> Rehearsal[Key]:
    """Play a loss through on a reviewed unit. Every offer is reviewed in its patient."""
    draws = unit.draws
    fluids = [fluid for key in loss.sizes if (fluid := means.catalogue.get(key)) is not None]
    left = lasting(loss, draws, means.counts, fluids)
    found = affected_orders(unit.beds, loss, means.catalogue)
    orders = tuple(_with_offers(one, loss, means) for one in found)
    switched = [draw for one in orders if (draw := _switched(one)) is not None]
    return Rehearsal(
        loss=loss,
        lasting=left,
        orders=orders,
        drugs=affected_drugs(unit.beds, loss),
        turned=turned_to(switched, draws, means.counts),
        kept=_kept(orders, left, loss),
        together=_together(orders, means),
    )


def _with_offers(one: Affected[Key], loss: Loss, means: Means) -> Affected[Key]:
    if one.standing != "affected":
        return one
    return replace(one, offers=offers_of(one.order, one.review, loss, means))


def _switched(one: Affected[Key]) -> Draw | None:
    """What an order takes once it has turned to its first offer."""
    first, draw = one.offers.first, one.draw
    if first is None or draw is None or first.candidate.concentrate is not None:
        return None
    bags = first.candidate.bags
    if bags is None or draw.ml_day is None:
        return replace(draw, fluid=first.fluid, size_ml=None, bags_day=None)
    each = bags_a_day(draw.ml_day, bags, once=not one.renewed)
    return replace(draw, fluid=first.fluid, size_ml=bags.size_ml, bags_day=each)


def _kept(orders: Sequence[Affected[Key]], left: Sequence[Lasting], loss: Loss) -> tuple[Kept, ...]:
    kept = []
    for one in left:
        draws = [
            draw
            for order in orders
            if order.standing == "affected" and order.offers.first is None
            for draw in order.draws
            if draw.fluid.id == one.fluid.id and loss.has(draw.fluid.id, draw.size_ml)
        ]
        if draws:
            ml_day = sum(draw.ml_day or 0.0 for draw in draws)
            kept.append(Kept(one.fluid.id, len(draws), ml_day, days_of(one.counted_l, ml_day)))
    return tuple(kept)


def _together(orders: Sequence[Affected[Key]], means: Means) -> tuple[Together[Key], ...]:
    by_key: dict[Key, list[Affected[Key]]] = {}
    for one in orders:
        if one.offers.first is not None:
            by_key.setdefault(one.key, []).append(one)
    made = (_at_once(key, many, means) for key, many in by_key.items() if len(many) > 1)
    return tuple(one for one in made if one.new)


def _at_once(key: Key, many: Sequence[Affected[Key]], means: Means) -> Together[Key]:
    firsts = [first for one in many if (first := one.offers.first) is not None]
    before = many[0].review
    after = reviewed_with(before, tuple(first.candidate for first in firsts), means)
    told = {_which(change) for first in firsts for change in first.changes.new}
    new = changes(before, after).new
    return Together(key, tuple(change for change in new if _which(change) not in told))


def _which(change: Change) -> tuple[str, str]:
    return change.found.rule.id, change.level
