"""A review as plain lines, for a terminal or a print: worst first, then what was not assessed."""

from collections.abc import Iterable, Iterator
from typing import Final

from app.catalogue.source import Source
from app.cautions.assess import Found
from app.cautions.phrases import listed, opening
from app.cautions.registry import RULE_BY_ID
from app.cautions.rule import LEVELS, NotAssessed
from app.cautions.switches import off_sentence
from app.patient.order import Order, Question
from app.review.assess import OrderReview, Review
from app.review.missing.would_change import CouldRaise

USUAL_CAUTION: Final = (
    "Ringside supports the judgement of licensed staff and never replaces it. Local policy and "
    "the product label win. “Nothing found” means that no rule of ours fired; it does not mean "
    "that an order is right."
)


def lines_of(review: Review) -> Iterator[str]:
    """Every line of a review in reading order, worst first; the usual caution ends it."""
    blocks = [(order.worst, _order_lines(order)) for order in review.orders]
    if review.patient_found:
        worst = min(LEVELS.index(found.finding.level) for found in review.patient_found)
        blocks.insert(0, (worst, _patient_lines(review.patient_found)))
    for _, lines in sorted(blocks, key=lambda block: block[0]):
        yield from lines
        yield ""
    if not review.orders:
        yield "No fluid order was given, so none was reviewed."
        yield ""
    yield from _lack_lines("Not assessed for the patient as a whole", review.patient_not_assessed)
    yield from _silent_lines(review)
    yield from _could_raise_lines(review.would_change)
    yield from _question_lines(review.case.questions)
    yield USUAL_CAUTION


def _patient_lines(found: Iterable[Found]) -> Iterator[str]:
    yield "The patient as a whole"
    for one in _worst_first(found):
        ids = one.finding.order_ids
        plural = "s" if len(ids) > 1 else ""
        yield from _found_lines(one, f" (order{plural} {listed(ids)})" if ids else "")


def _order_lines(review: OrderReview) -> Iterator[str]:
    yield f"Order {review.order.id}: {_order_name(review.order)}"
    for one in _worst_first(review.found):
        yield from _found_lines(one)
    if not review.found:
        yield "  nothing found by the rules that could run"
    for found, fluids in review.depends:
        names = " or ".join(fluid.name for fluid in fluids)
        yield f"  {found.finding.level} only if {names} is meant: {found.finding.summary}"
    yield from _question_lines(review.order.questions)
    yield from _lack_lines("  not assessed", review.not_assessed)


def _order_name(order: Order) -> str:
    if order.fluid is None:
        return f"“{order.written}”, not understood as one fluid"
    return order.fluid.name


def _worst_first(found: Iterable[Found]) -> list[Found]:
    return sorted(found, key=lambda one: LEVELS.index(one.finding.level))


def _found_lines(found: Found, concerns: str = "") -> Iterator[str]:
    rule, finding = found.rule, found.finding
    yield f"  {finding.level.upper()}: {finding.summary}{concerns}"
    yield f"    why: {finding.why}"
    yield f"    do: {found.do}"
    yield f"    source: {'; '.join(map(_source, rule.sources))} [{rule.id}]"


def _source(source: Source) -> str:
    place = f", {source.place}" if source.place else ""
    return f"{source.work}{place}" + ("" if source.seen else " (from memory)")


def _question_lines(questions: Iterable[Question]) -> Iterator[str]:
    for question in questions:
        choices = f" ({' / '.join(question.choices)})" if question.choices else ""
        yield f"  to ask: {question.field} “{question.written}”: {question.ask}{choices}"


def _silent_lines(review: Review) -> Iterator[str]:
    """Rules that do not run here and would have had something to say."""
    for one in review.silent:
        whom = f" (order{'s' * (len(one.order_ids) > 1)} {listed(one.order_ids)})"
        yield f"Not run: {opening(one.off.rule.title)}{whom if one.order_ids else ''}"
        yield f"    {off_sentence(one.off, review.case.now.tzinfo)}"


def _could_raise_lines(would_change: Iterable[CouldRaise]) -> Iterator[str]:
    ranked = tuple(would_change)
    if not ranked:
        return
    yield "Missing is not normal. Not known, and could raise a finding, what matters most first:"
    for number, one in enumerate(ranked, 1):
        yield f"    {number}. {one.level}: {one.sentence}"


def _lack_lines(heading: str, not_assessed: Iterable[NotAssessed]) -> Iterator[str]:
    rows = tuple(not_assessed)
    if not rows:
        return
    yield f"{heading}:"
    for lack in rows:
        title = RULE_BY_ID[lack.rule_id].title if lack.rule_id in RULE_BY_ID else lack.rule_id
        needs = listed(tuple(need.replace("_", " ") for need in lack.needs))
        why = f" ({lack.why}: {lack.detail})" if lack.detail else f" ({lack.why})"
        yield f"    {opening(title)}: needs {needs}{why}"
