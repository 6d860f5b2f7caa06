"""What came out of a run, in the few numbers that people and the approval of a change ask for."""

from collections.abc import Iterable
from typing import Any, Final

from app.review.replay.answer import rank_of
from app.review.replay.tally import Change, Tally

CRITICAL: Final = ("critical",)


def numbers_of(tally: Tally, cap: float) -> dict[str, Any]:
    """In short. cap: by how much burden may rise without a written reason, per 100 orders."""
    kinds = {"appear": 0, "vanish": 0, "level": 0}
    for change, rows in tally.changes.items():
        kinds[kind_of(change)] += rows
    return {
        "requests": tally.before.requests,
        "unread": tally.before.unread,
        "orders": tally.before.all_orders,
        "burden_before": tally.before.burden(),
        "burden_after": tally.after.burden(),
        "critical_before": tally.before.burden(CRITICAL),
        "critical_after": tally.after.burden(CRITICAL),
        "not_assessed_before": tally.before.not_assessed,
        "not_assessed_after": tally.after.not_assessed,
        "critical_lost": critical_lost(tally),
        "newly_unread": tally.newly_unread,
        "cap": cap,
        **kinds,
    }


def critical_lost(tally: Tally) -> int:
    """Critical rows that would vanish or be said more quietly."""
    lost = (
        rows for (_, _, was, to), rows in tally.changes.items() if was in CRITICAL and was != to
    )
    return sum(lost)


def kind_of(change: Change) -> str:
    """ "appear", "vanish" or "level"."""
    _, _, was, would_be = change
    if not was:
        return "appear"
    return "level" if would_be else "vanish"


def worst_first(changes: Iterable[tuple[Change, int]]) -> list[tuple[Change, int]]:
    """Changes as people read them: what touches a critical row first, then the most rows."""
    return sorted(changes, key=_weight)


def _weight(counted: tuple[Change, int]) -> tuple[int, int, Change]:
    (rule_id, setting, was, would_be), rows = counted
    return min(rank_of(was), rank_of(would_be)), -rows, (rule_id, setting, was, would_be)
