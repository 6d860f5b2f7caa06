"""A sample of past findings, drawn by chance from a count, with what was shown of each.

A count keeps, of each rule and level, the rows with the smallest digests under its seed. The
smallest of them all are a simple random sample of all loud rows, as long as it is no larger than
what is kept of a kind.
"""

from collections.abc import Collection, Iterable, Mapping
from typing import Any, Final

from app.cautions.assess import Found
from app.review.assess import Review, review
from app.review.replay.answer import Past, rank_of
from app.review.replay.tally import KEPT_OF_A_KIND, Changed, Tally
from app.review.replay.twice import Known, case_of

# Past order, rule, orders.
Place = tuple[int, str, tuple[str, ...]]
SIZES: Final = (10, 20, 40)
LARGEST: Final = max(SIZES)
assert LARGEST <= KEPT_OF_A_KIND


def drawn(
    tally: Tally, size: int, rule_id: str = "", taken: Collection[Place] = ()
) -> tuple[Changed, ...]:
    """So many loud rows by chance: of all rules, or of one. Fewer where there are fewer.

    taken: rows that are in a sample already, by past order, rule and orders.
    """
    loud = (row for row in tally.sample if row.was == row.would_be)
    asked = (row for row in loud if rule_id in ("", row.rule_id))
    new = (row for row in asked if (row.past_id, row.rule_id, row.order_ids) not in taken)
    return tuple(sorted(new))[:size]


def as_item(row: Changed, past: Past, known: Known) -> dict[str, Any] | None:
    """A row as it is kept in a sample, with what was shown; None where it is shown no more."""
    case = case_of(past, known)
    if case is None:
        return None
    found = _found(review(case, known.ruleset), row)
    if found is None:
        return None
    return {
        "past_id": row.past_id,
        "rule_id": row.rule_id,
        "order_ids": list(row.order_ids),
        "level": found.finding.level,
        "told": _told(found),
    }


def _found(reviewed: Review, row: Changed) -> Found | None:
    same = [
        found
        for found in reviewed.all_found
        if found.rule.id == row.rule_id and tuple(found.finding.order_ids) == row.order_ids
    ]
    return min(same, key=lambda found: rank_of(found.finding.level), default=None)


def _told(found: Found) -> dict[str, Any]:
    finding, rule = found.finding, found.rule
    return {
        "rule": rule.title,
        "title": finding.summary,
        "why": finding.why,
        "do": found.do,
        "unless": rule.unless,
    }


def rules_in(rows: Iterable[Changed]) -> Mapping[str, int]:
    """How many loud rows are kept of each rule: those a sample may be drawn from."""
    counted: dict[str, int] = {}
    for row in rows:
        if row.was == row.would_be:
            counted[row.rule_id] = counted.get(row.rule_id, 0) + 1
    return counted
