"""Which orders and drugs of a unit a loss concerns. Pure."""

from collections.abc import Hashable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Final, Generic, Literal, TypeVar

from app.catalogue.catalogue import Catalogue
from app.patient.case import Case
from app.patient.order import AdditiveDose, Order
from app.review.assess import Review
from app.review.running.orders import ends_min, goes_on, starts_min
from app.review.shortage.candidates import is_fluid_lost, lost_doses
from app.review.shortage.draws import Draw
from app.review.shortage.loss import Loss
from app.review.shortage.offers import Offers
from app.review.shortage.saving import MEASURES, may_drink

Key = TypeVar("Key", bound=Hashable)
# affected: its bag or an additive is lost. over: it is, but should be in before the loss begins.
# may be: its name fits several fluids, of which some are lost.
Standing = Literal["affected", "over", "may be"]
NO_OFFERS: Final = Offers()


@dataclass(frozen=True, slots=True)
class Affected(Generic[Key]):
    """One order that a loss concerns.

    key, review: whose it is. lost: what is lost of it, in words. ml_day: what it takes of its fluid
    in 24 h. ends: when its bag, or all of it, should be in; None where that cannot be told.
    may_drink: recorded as drinking. measures: keys of the savings to ask about. offers: what
    stands in; none for one that is over or unclear.
    """

    key: Key
    review: Review
    order: Order
    standing: Standing
    draws: tuple[Draw, ...]
    doses: tuple[AdditiveDose, ...] = ()
    ends: datetime | None = None
    renewed: bool = False
    may_drink: bool = False
    measures: tuple[str, ...] = ()
    offers: Offers = field(default=NO_OFFERS)

    @property
    def draw(self) -> Draw | None:
        """What it takes of the fluid it hangs in."""
        return next((one for one in self.draws if one.what == "order"), None)


@dataclass(frozen=True, slots=True)
class AffectedDrug(Generic[Key]):
    """One drug whose carrier is lost: its label decides what else may carry it."""

    key: Key
    draw: Draw


def affected_orders(
    beds: Iterable[tuple[Key, Review, Sequence[Draw]]], loss: Loss, catalogue: Catalogue
) -> tuple[Affected[Key], ...]:
    """Every order of which a bag or an additive is lost, in the order of the beds."""
    return tuple(one for bed in beds for one in _of_bed(*bed, loss, catalogue))


def affected_drugs(
    beds: Iterable[tuple[Key, Review, Sequence[Draw]]], loss: Loss
) -> tuple[AffectedDrug[Key], ...]:
    """Every drug that comes in what is lost, in the order of the beds."""
    return tuple(
        AffectedDrug(key, draw)
        for key, _, draws in beds
        for draw in draws
        if draw.what == "carrier" and loss.has(draw.fluid.id, draw.size_ml)
    )


def _of_bed(
    key: Key, review: Review, draws: Sequence[Draw], loss: Loss, catalogue: Catalogue
) -> Iterator[Affected[Key]]:
    case = review.case
    for order in case.orders:
        doses = lost_doses(order, loss, catalogue)
        unclear = any(loss.has(fluid.id, None) for fluid in order.candidates)
        if not (doses or unclear or is_fluid_lost(order, loss)):
            continue
        ends, renewed = bag_ends(order, case)
        over = ends is not None and not renewed and ends <= loss.starts
        standing: Standing = "may be" if unclear else "over" if over else "affected"
        yield Affected(
            key=key,
            review=review,
            order=order,
            standing=standing,
            draws=tuple(one for one in draws if one.source == order.id and one.what != "carrier"),
            doses=doses,
            ends=ends,
            renewed=renewed,
            may_drink=may_drink(case),
            measures=tuple(one.key for one in MEASURES if one.here and one.here(order, case)),
        )


def bag_ends(order: Order, case: Case) -> tuple[datetime | None, bool]:
    """When what was ordered should be in, and whether another bag is hung after that.

    None where no rate or volume is written, or nothing tells how much has run in.
    """
    renewed = goes_on(order, case)
    if not order.rate_ml_h or order.volume_ml is None:
        return None, renewed
    if renewed:
        if order.starts_at is None or order.duration_h is None:
            return None, True
        return order.starts_at + timedelta(hours=order.volume_ml / order.rate_ml_h), True
    minutes, _ = ends_min(order, order.rate_ml_h, case, starts_min(order, case))
    return case.now + timedelta(minutes=minutes), False
