"""Findings and what could not be assessed, as rows a page can print."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final

from app.catalogue.source import NO_SOURCE, Source
from app.cautions.assess import Found, Ruleset
from app.cautions.rule import Limit, NotAssessed
from app.patient.case import Case
from app.patient.order import Order
from app.review.assess import OrderReview, Review
from app.web import show
from app.web.advice.figures import PLACES, Figure, figure
from app.web.advice.order_words import order_words

SEEN: Final = "text seen"
FROM_MEMORY: Final = "from memory"
LOUD: Final = ("critical", "warning")


@dataclass(frozen=True, slots=True)
class FindingView:
    """One finding. orders: the orders it is about, in words. only_if: fluids it holds for."""

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
    ways_out: tuple[str, ...] = ()
    only_if: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class MissingView:
    """One thing not known, and what could not be assessed for want of it."""

    what: str
    rules: tuple[str, ...]


def finding_view(
    found: Found, orders: tuple[Order, ...], case: Case, *, only_if: tuple[str, ...] = ()
) -> FindingView:
    """A finding with its figures, limits and sources as text."""
    rule, finding = found.rule, found.finding
    return FindingView(
        rule_id=rule.id,
        level=finding.level,
        summary=finding.summary,
        why=show.capital(finding.why),
        do=finding.do or rule.do,
        unless=show.capital(rule.unless),
        orders=tuple(order_words(order, case.now) for order in orders),
        figures=tuple(figure(key, value) for key, value in finding.figures.items()),
        limits=tuple(_limit(limit, found.limits) for limit in rule.limits),
        sources=tuple(_source(source) for source in rule.sources),
        evidence=rule.evidence,
        only_if=only_if,
    )


def findings_of(review: Review) -> tuple[FindingView, ...]:
    """Every finding of a review, worst first; findings of the whole patient name their orders."""
    case = review.case
    by_id = {order.id: order for order in case.orders}
    views = [
        finding_view(f, tuple(by_id[i] for i in f.finding.order_ids if i in by_id), case)
        for f in review.patient_found
    ]
    for order in review.orders:
        views += findings_of_order(order, case)
    return worst_first(views)


def findings_of_order(order: OrderReview, case: Case) -> list[FindingView]:
    """The findings of one order, those that hold for only some readings of its name included."""
    views = [finding_view(f, (order.order,), case) for f in order.found]
    for found, fluids in order.depends:
        names = tuple(fluid.name for fluid in fluids)
        views.append(finding_view(found, (order.order,), case, only_if=names))
    return views


def worst_first(views: Iterable[FindingView]) -> tuple[FindingView, ...]:
    """Critical, then warning, then info; else as they came."""
    levels = (*LOUD, "info")
    return tuple(sorted(views, key=lambda view: levels.index(view.level)))


def missing_of(review: Review, ruleset: Ruleset) -> tuple[MissingView, ...]:
    """What could not be assessed, grouped by what is not known."""
    all_missing = [
        *review.patient_not_assessed,
        *(n for order in review.orders for n in order.not_assessed),
    ]
    return missing_views(all_missing, titles_of(ruleset))


def titles_of(ruleset: Ruleset) -> dict[str, str]:
    """Rule titles by id."""
    return {rule.id: rule.title for rule in (*ruleset.order_rules, *ruleset.patient_rules)}


def missing_views(
    missing: Iterable[NotAssessed], titles: Mapping[str, str]
) -> tuple[MissingView, ...]:
    """Each thing not known, once, with the rules that wanted it."""
    grouped: dict[str, dict[str, None]] = {}
    for one in missing:
        title = titles.get(one.rule_id, one.rule_id)
        grouped.setdefault(_what(one), {}).setdefault(title)
    return tuple(MissingView(what, tuple(rules)) for what, rules in grouped.items())


def _what(missing: NotAssessed) -> str:
    if missing.detail:
        return show.capital(missing.detail)
    return f"No {' or '.join(show.name_text(need) for need in missing.needs)}"


def _limit(limit: Limit, in_force: Mapping[str, float]) -> Figure:
    value = in_force[limit.name]
    local = "" if value == limit.value else f"local; as shipped {show.number(limit.value, PLACES)}"
    meaning = show.capital(limit.meaning) or figure(limit.name, value).name
    return Figure(meaning, show.amount(value, limit.unit, PLACES), local)


def _source(source: Source) -> Figure:
    if source.work == NO_SOURCE:
        return Figure(show.capital(NO_SOURCE), source.place)
    return Figure(source.work, source.place, SEEN if source.seen else FROM_MEMORY)
