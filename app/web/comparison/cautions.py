"""What each fluid would do to a patient: loud findings, and what was not assessed."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Final

from app.catalogue.fluid import ML_PER_L, Fluid
from app.cautions.assess import Found, Ruleset
from app.cautions.describe import need_text
from app.cautions.rule import LEVELS
from app.patient.case import Case
from app.patient.order import Order
from app.review.assess import LOUD, OrderReview, Review, review
from app.web.show import count

WHAT_IF: Final = "what-if"
BAG_ML: Final = ML_PER_L


@dataclass(frozen=True, slots=True)
class CautionLine:
    """One finding in a line."""

    level: str
    summary: str
    rule_id: str


@dataclass(frozen=True, slots=True)
class FluidCautions:
    """What is found of one fluid in this patient. lacking: what was not assessed, in words; needs:
    for want of which inputs, by name.
    """

    name: str
    lines: tuple[CautionLine, ...]
    lacking: str
    needs: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class WhatIf:
    """Cautions of every fluid, the order each was tried in place of, and the rows they concern."""

    how: str
    fluids: tuple[FluidCautions, ...]
    about: frozenset[str]


def what_if(
    case: Case, fluids: Sequence[Fluid], rate_ml_h: float, ruleset: Ruleset, rows: Iterable[str]
) -> WhatIf:
    """Each fluid tried in place of the patient's first fluid order. Nothing is saved.

    rows: keys of table rows; those that a loud finding's figures name are returned as `about`.
    """
    first = case.orders[0] if case.orders else None
    reviews = [review(tried(case, fluid, rate_ml_h), ruleset) for fluid in fluids]
    found = [_loud(each) for each in reviews]
    figures = {name for loud in found for f in loud for name in f.finding.figures}
    return WhatIf(
        how="alone; no other fluid is ordered"
        if first is None
        else f"in place of “{first.written}”; the other orders stay",
        fluids=tuple(
            FluidCautions(fluid.name, _lines(loud), lacking(_order_review(each)))
            for fluid, loud, each in zip(fluids, found, reviews, strict=True)
        ),
        about=frozenset(row for row in rows if any(row in figure for figure in figures)),
    )


def tried(case: Case, fluid: Fluid, rate_ml_h: float) -> Case:
    """The case with this fluid as its first order: same lumen and purpose, no additives."""
    first = case.orders[0] if case.orders else None
    order = Order(
        id=WHAT_IF,
        written=fluid.name,
        fluid=fluid,
        volume_ml=BAG_ML,
        rate_ml_h=rate_ml_h,
        duration_h=BAG_ML / rate_ml_h,
        starts_at=case.now,
        lumen=None if first is None else first.lumen,
        purpose=None if first is None else first.purpose,
        mix=fluid.composition,
    )
    return replace(case, orders=(order, *case.orders[1:]))


def order_cautions(case: Case, order: Order, ruleset: Ruleset) -> FluidCautions:
    """What is loud of one order, whose id is WHAT_IF, tried in place of the patient's first."""
    whole = review(replace(case, orders=(order, *case.orders[1:])), ruleset)
    ours = _order_review(whole)
    needs = frozenset(need for each in ours.not_assessed for need in each.needs)
    return FluidCautions(order.called, _lines(_loud(whole)), lacking(ours), needs)


def _order_review(whole: Review) -> OrderReview:
    return next(each for each in whole.orders if each.order.id == WHAT_IF)


def _loud(whole: Review) -> tuple[Found, ...]:
    """Loud findings of the order tried, and those of the patient that it has a part in."""
    shared = (f for f in whole.patient_found if WHAT_IF in f.finding.order_ids)
    found = (*_order_review(whole).found, *shared)
    return tuple(f for f in found if f.finding.level in LOUD)


def _lines(found: Sequence[Found]) -> tuple[CautionLine, ...]:
    worst_first = sorted(found, key=lambda f: LEVELS.index(f.finding.level))
    return tuple(CautionLine(f.finding.level, f.finding.summary, f.rule.id) for f in worst_first)


def lacking(order: OrderReview) -> str:
    """What could not be assessed and for want of what: "3 rules, for want of weight, age"."""
    if not order.not_assessed:
        return ""
    needs = dict.fromkeys(need_text(need) for each in order.not_assessed for need in each.needs)
    return f"{count(len(order.not_assessed), 'rule')}, for want of {', '.join(needs)}"
