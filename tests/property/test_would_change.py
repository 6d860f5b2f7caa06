"""What is listed as able to change the review can change it, and what is not listed cannot."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Any, Final

from hypothesis import given

from app.cautions.rule import LEVELS, NotAssessed
from app.patient.case import Case
from app.patient.known import Why
from app.patient.order import Order
from app.review.assess import Review, review
from app.review.missing.lack import DEPTH, judged_by
from app.review.missing.plausible import plausible_cases
from tests.property.test_review import KNOWN, QUICK, requests, reviewed

QUIET: Final = len(LEVELS)


def gaps(told: Review) -> Iterator[tuple[Order | None, NotAssessed]]:
    for order in told.orders:
        yield from ((order.order, gap) for gap in order.not_assessed)
    yield from ((None, gap) for gap in told.patient_not_assessed)


def rank(told: Review, rule_id: str, order: Order | None) -> int:
    """How loud a rule is about an order, or about any where it looks at the whole patient."""
    levels = [
        LEVELS.index(found.finding.level)
        for found in told.all_found
        if found.rule.id == rule_id and (order is None or order.id in found.finding.order_ids)
    ]
    return min(levels, default=QUIET)


def worst(told: Review, gap: NotAssessed, order: Order | None, depth: int = DEPTH) -> int:
    """The loudest a rule becomes for any plausible value of what it lacks, by whole reviews."""
    need = gap.needs[0]
    return min(
        (
            min(rank(after, gap.rule_id, order), further(after, gap, order, depth))
            for after in tried(told.case, order, need, gap.why)
        ),
        default=QUIET,
    )


def further(after: Review, gap: NotAssessed, order: Order | None, depth: int) -> int:
    """The same where the rule then lacks something else."""
    if depth == 1:
        return QUIET
    same = [
        more
        for at, more in gaps(after)
        if more.rule_id == gap.rule_id and more.needs != gap.needs and more.order_id == gap.order_id
        if (at is None) == (order is None)
    ]
    return min((worst(after, more, order, depth - 1) for more in same), default=QUIET)


def tried(case: Case, order: Order | None, need: str, why: Why) -> Iterator[Review]:
    orders = case.orders if order is None else (order,)
    judged = any(need in judged_by(one) for one in orders)
    for each in plausible_cases(case, order, need, "missing" if judged else why):
        yield review(replace(each, pairs=KNOWN.pairs), KNOWN.ruleset)


@QUICK
@given(requests())
def test_a_value_is_listed_exactly_when_a_plausible_one_would_raise_something(
    request: dict[str, Any],
) -> None:
    told = reviewed(request)
    could = {
        gap.needs[0]
        for order, gap in gaps(told)
        if worst(told, gap, order) < rank(told, gap.rule_id, order)
    }
    assert {one.need for one in told.would_change} == could
