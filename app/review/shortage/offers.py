"""What could stand in for a lost fluid in one patient, each reviewed with every rule. Pure."""

from dataclasses import dataclass, replace
from typing import Final

from app.catalogue.fluid import Fluid
from app.patient.order import Order
from app.review.assess import Review, review
from app.review.shortage.candidates import Candidate, Means, field_of
from app.review.shortage.changes import Changes, changes
from app.review.shortage.loss import Loss

OFFERED: Final = 3
CRITICAL_SHOWN: Final = 3


@dataclass(frozen=True, slots=True)
class Tried:
    """One candidate with what a review of this patient finds otherwise when it hangs instead."""

    candidate: Candidate
    changes: Changes

    @property
    def fluid(self) -> Fluid:
        """The fluid that would hang."""
        return self.candidate.fluid


@dataclass(frozen=True, slots=True)
class Offers:
    """What is proposed for one order.

    offered: the nearest that bring nothing new that is critical, at most three. critical: those
    that do, the nearest first, as far as tried: when nothing is offered all of them, so that
    pharmacist and prescriber decide. refused: not proposed for the bags it would take. why_none:
    why nothing was sought.
    """

    offered: tuple[Tried, ...] = ()
    critical: tuple[Tried, ...] = ()
    refused: tuple[tuple[Fluid, str], ...] = ()
    why_none: str = ""

    @property
    def first(self) -> Tried | None:
        """The nearest that may be offered; None where there is none."""
        return self.offered[0] if self.offered else None

    @property
    def every_one_is_critical(self) -> bool:
        """Whether whatever could stand in brings something critical."""
        return bool(self.critical) and not self.offered


def offers_of(order: Order, before: Review, loss: Loss, means: Means) -> Offers:
    """The nearest fluids for one order of a reviewed patient, tried one after another until three
    may be offered; so when none may, every one was tried.
    """
    field = field_of(order, before.case, loss, means)
    offered: list[Tried] = []
    critical: list[Tried] = []
    for candidate in field.candidates:
        tried = Tried(candidate, changes(before, reviewed_with(before, (candidate,), means)))
        (critical if tried.changes.brings_critical else offered).append(tried)
        if len(offered) == OFFERED:
            break
    return Offers(tuple(offered), tuple(critical), field.refused, field.why_none)


def reviewed_with(before: Review, candidates: tuple[Candidate, ...], means: Means) -> Review:
    """The patient reviewed with these in the place of the orders of the same ids."""
    instead = {candidate.order.id: candidate.order for candidate in candidates}
    orders = tuple(instead.get(order.id, order) for order in before.case.orders)
    return review(replace(before.case, orders=orders), means.ruleset)
