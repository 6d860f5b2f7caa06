"""Findings, as rows a page can print."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Final

from app.catalogue.fluid import Fluid
from app.catalogue.source import NO_SOURCE, Source
from app.catalogue.stock.stock import NOTHING_TOLD, Stock
from app.cautions.assess import Found
from app.cautions.rule import Limit
from app.intake.orders.steps import is_part_of
from app.patient.case import Case
from app.patient.order import Order
from app.review.assess import OrderReview, Review
from app.review.fold import Row, rows_of
from app.review.knowledge import Knowledge
from app.review.receipts.receipt import Key, key_of_found, numbers_of
from app.review.ways.offers import Offers
from app.web import show
from app.web.advice.figures import PLACES, Figure, figure
from app.web.advice.order_words import order_words
from app.web.advice.taken import dated_figures, taken_words

SEEN: Final = "text seen"
FROM_MEMORY: Final = "from memory"
LOUD: Final = ("critical", "warning")

Numbers = Mapping[Key, int]
NO_NUMBERS: Final[Numbers] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class WayOut:
    """Another fluid, and what changes with it. place: where it is, empty when nobody told."""

    fluid_id: str
    name: str
    why: str
    place: str = ""


@dataclass(frozen=True, slots=True)
class FindingView:
    """One finding, or several of one cause told as one.

    taken: when the results it rests on were taken. orders: the orders it is about, in words.
    reasons: the others of the same cause. ways_out: other fluids that clear it. only_if: fluids
    it holds for, when the order's name fits several. receipt: the number of its receipt, 0 where
    the page offers none.
    """

    rule_id: str
    level: str
    summary: str
    why: str
    do: str
    unless: str
    orders: tuple[str, ...]
    figures: tuple[Figure, ...]
    limits: tuple[Figure, ...]
    sources: tuple[Figure, ...]
    evidence: str
    rule_title: str = ""
    taken: str = ""
    reasons: tuple["FindingView", ...] = ()
    ways_out: tuple[WayOut, ...] = ()
    only_if: tuple[str, ...] = ()
    receipt: int = 0


def finding_view(
    found: Found,
    orders: tuple[Order, ...],
    case: Case,
    numbers: Numbers = NO_NUMBERS,
    *,
    only_if: tuple[str, ...] = (),
) -> FindingView:
    """A finding with its figures, limits and sources as text."""
    rule, finding = found.rule, found.finding
    return FindingView(
        rule_id=rule.id,
        level=finding.level,
        summary=finding.summary,
        why=show.sentence(finding.why),
        do=found.do,
        unless=show.sentence(rule.unless),
        orders=tuple(order_words(order, case.now) for order in orders),
        figures=dated_figures(finding.figures, case.patient),
        limits=tuple(_limit(limit, found.limits) for limit in rule.limits),
        sources=tuple(_source(source) for source in rule.sources),
        evidence=rule.evidence,
        rule_title=rule.title,
        taken=taken_words(finding.figures, case.patient),
        only_if=only_if,
        receipt=numbers.get(key_of_found(found), 0),
    )


def offers_of(review: Review, knowledge: Knowledge, stock: Stock = NOTHING_TOLD) -> Offers:
    """What finds other fluids that clear a finding, none of them out or withdrawn."""
    return Offers.of(review, knowledge.catalogue, knowledge.ruleset, stock)


def findings_of(
    review: Review,
    knowledge: Knowledge,
    order_id: str | None = None,
    stock: Stock = NOTHING_TOLD,
) -> tuple[FindingView, ...]:
    """A review's findings told by cause, worst first.

    order_id: only those of this order, with all its steps, or of no order at all.
    """
    offers, numbers = offers_of(review, knowledge, stock), numbers_of(review)
    rows = (
        row
        for row in rows_of(review)
        if order_id is None
        or not row.order_ids
        or any(is_part_of(each, order_id) for each in row.order_ids)
    )
    return tuple(row_view(row, review.case, offers, numbers) for row in rows)


def row_view(row: Row, case: Case, offers: Offers, numbers: Numbers = NO_NUMBERS) -> FindingView:
    """Findings of one cause as one: the worst leads, the others are its further reasons.

    numbers: of the findings' receipts, where the page offers them.
    """
    orders = tuple(order for order in case.orders if order.id in row.order_ids)
    reasons = tuple(finding_view(found, (), case, numbers) for found in row.reasons)
    lead = finding_view(row.lead, orders, case, numbers)
    return replace(
        lead,
        do=offers.advice(row.lead),
        reasons=reasons,
        ways_out=_ways_out(row, offers, orders[:1]),
    )


def _ways_out(row: Row, offers: Offers, orders: tuple[Order, ...]) -> tuple[WayOut, ...]:
    found = offers.alternatives(row.lead, (order.id for order in orders))
    return tuple(
        WayOut(way.fluid.id, way.fluid.name, way.why, way.stock.state if way.stock.is_known else "")
        for way in found
    )


def depends_of(
    order: OrderReview, case: Case, offers: Offers, numbers: Numbers = NO_NUMBERS
) -> tuple[FindingView, ...]:
    """Findings that hold for only some of the fluids the order's name may mean."""
    views = (
        (found, finding_view(found, (order.order,), case, numbers, only_if=_names(fluids)))
        for found, fluids in order.depends
    )
    return worst_first(replace(view, do=offers.advice(found)) for found, view in views)


def _names(fluids: Iterable[Fluid]) -> tuple[str, ...]:
    return tuple(fluid.name for fluid in fluids)


def worst_first(views: Iterable[FindingView]) -> tuple[FindingView, ...]:
    """Critical, then warning, then info; else as they came."""
    levels = (*LOUD, "info")
    return tuple(sorted(views, key=lambda view: levels.index(view.level)))


def _limit(limit: Limit, in_force: Mapping[str, float]) -> Figure:
    value = in_force[limit.name]
    local = "" if value == limit.value else f"local; as shipped {show.number(limit.value, PLACES)}"
    meaning = show.capital(limit.meaning) or figure(limit.name, value).name
    return Figure(meaning, show.amount(value, limit.unit, PLACES), local)


def _source(source: Source) -> Figure:
    if source.work == NO_SOURCE:
        return Figure(show.capital(NO_SOURCE), source.place)
    return Figure(source.work, source.place, SEEN if source.seen else FROM_MEMORY)
